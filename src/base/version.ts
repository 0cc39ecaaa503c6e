/** The build puts the version of package.json in its place. */
declare const __COATWRIGHT_VERSION__: string;

/** The version of this program. */
export const VERSION: string = __COATWRIGHT_VERSION__;
