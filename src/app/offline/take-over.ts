/** What the page says to a new version's service worker when the reader wants that version now. */
export const TAKE_OVER = 'coatwright-take-over';
