const KEY = 'coatwright-rehearsal-best';

/** The best points of each kind of rehearsal, as the browser keeps them; an unreadable record counts as none. */
export function readBest(text: string | null | undefined): Record<string, number> {
  try {
    const kept: unknown = JSON.parse(text ?? '{}');
    if (typeof kept !== 'object' || kept === null) return {};
    const points = Object.entries(kept).filter(
      (entry): entry is [string, number] => typeof entry[1] === 'number' && Number.isFinite(entry[1]),
    );
    return Object.fromEntries(points);
  } catch {
    return {};
  }
}

/** The best points so far under this name; undefined where there are none. */
export function bestOf(name: string): number | undefined {
  return load()[name];
}

/** Keeps the points where they are the best so far; answers whether they are. */
export function keepBest(name: string, points: number): boolean {
  const all = load();
  const before = all[name];
  if (before !== undefined && points <= before) return false;
  try {
    localStorage.setItem(KEY, JSON.stringify({ ...all, [name]: points }));
  } catch {
    // A private window: the best score lasts as long as the page.
  }
  return true;
}

function load(): Record<string, number> {
  try {
    return readBest(localStorage.getItem(KEY));
  } catch {
    return {};
  }
}
