import { routeHref, STATIONS } from '../routes.ts';

/** A key of the bench, held with Alt. */
export interface BenchKey {
  /** The key's place as the browser names it, whatever the layout prints on it. */
  readonly code: string;
  readonly words: string;
  readonly deed: 'help' | { readonly href: (batchId: string) => string };
}

/** Keys with Alt: the browsers on Windows and Linux leave these free. */
export const BENCH_KEYS: readonly BenchKey[] = [
  ...STATIONS.map((station, index) => ({
    code: `Digit${index + 1}`,
    words: `to the station ${station[0]!.toUpperCase()}${station.slice(1)}`,
    deed: { href: (batchId: string) => routeHref({ page: 'station', batchId, station }) },
  })),
  {
    code: 'KeyN',
    words: 'a new order, from a line or a template',
    deed: { href: () => routeHref({ page: 'new' }) },
  },
  {
    code: 'KeyP',
    words: 'the traveller, ready to print',
    deed: { href: (batchId) => routeHref({ page: 'traveller', batchId }) },
  },
  { code: 'KeyL', words: 'the list of all batches', deed: { href: () => routeHref({ page: 'batches' }) } },
  { code: 'KeyK', words: 'this list of keys', deed: 'help' },
];

/** The bench's key that was pressed, if any. On a Mac, Alt writes letters in a text field and is left to it. */
export function benchKeyOf(event: KeyboardEvent, isWriting: boolean): BenchKey | undefined {
  if (!event.altKey || event.ctrlKey || event.metaKey || event.shiftKey) return undefined;
  if (isWriting && /Mac|iP/.test(navigator.platform)) return undefined;
  return BENCH_KEYS.find(({ code }) => code === event.code);
}
