import type { MaterialRecord } from '../../../materials/record.ts';

/** Materials that stand together in the list. */
export interface MaterialGroup {
  readonly title: string;
  readonly records: readonly MaterialRecord[];
}

const OWN = 'Carried by this batch';
const SHELF = "On the shop's shelf";

const TITLES = ['Films', 'Metals', 'Glasses', 'Crystals and semiconductors'] as const;

/**
 * The materials whose id, name, formula or source contains every word of `wanted`, grouped: what the batch carries first,
 * then what lies on the shop's shelf, films, metals, glasses, crystals; within a group by name, further data sets behind the usual one. Groups without a
 * material are left out.
 */
export function groupMaterials(
  records: readonly MaterialRecord[],
  ownIds: ReadonlySet<string>,
  wanted: string,
  shelfIds: ReadonlySet<string> = new Set(),
): readonly MaterialGroup[] {
  const words = wanted.toLowerCase().split(/\s+/).filter(Boolean);
  const found = records.filter((record) => {
    const text = searchText(record);
    return words.every((word) => text.includes(word));
  });
  const titleOf = (record: MaterialRecord) => {
    if (ownIds.has(record.id)) return OWN;
    return shelfIds.has(record.id) ? SHELF : titleOfRole(record);
  };
  return [OWN, SHELF, ...TITLES]
    .map((title) => ({ title, records: found.filter((record) => titleOf(record) === title).sort(byName) }))
    .filter((group) => group.records.length > 0);
}

function searchText({ id, name, formula = '', source }: MaterialRecord): string {
  return `${id} ${name} ${formula} ${source.cites}`.toLowerCase();
}

function titleOfRole({ role, kind }: MaterialRecord): (typeof TITLES)[number] {
  if (role === 'film') return 'Films';
  if (role === 'metal') return 'Metals';
  return kind === 'glass' ? 'Glasses' : 'Crystals and semiconductors';
}

function byName(a: MaterialRecord, b: MaterialRecord): number {
  return a.name.localeCompare(b.name, 'en') || a.id.localeCompare(b.id, 'en');
}
