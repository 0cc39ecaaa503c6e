import { assert } from '../base/assert.ts';
import { MATERIAL_FILES, type MaterialFile } from './material-files.ts';
import { type MaterialRecord, parseMaterialRecord } from './record.ts';

const files = new Map<string, MaterialFile>(MATERIAL_FILES.map((file) => [file.id, file]));
const records = new Map<string, MaterialRecord>();

/**
 * Adds the further data sets (other papers, processes and rays) to the usual materials, which are there at
 * once. Tasks do it before they run; a page does it when it is idle, so that they are no part of its start.
 */
export async function loadWholeLibrary(): Promise<void> {
  const { FURTHER_MATERIAL_FILES } = await import('./further-material-files.ts');
  for (const file of FURTHER_MATERIAL_FILES) files.set(file.id, file);
}

/** The ids of the library as far as it is loaded, in alphabetical order. */
export function libraryIds(): readonly string[] {
  return [...files.keys()].sort();
}

/**
 * The material of an id, or `undefined` where there is none. A film that is another data set of a material
 * comes with that material's properties and hazards.
 * @param own the shop's own materials; they go before the library's of the same id.
 */
export function findMaterial(id: string, own: readonly MaterialRecord[] = []): MaterialRecord | undefined {
  const mine = own.find((record) => record.id === id);
  if (mine !== undefined) return mine;
  const known = records.get(id);
  if (known !== undefined) return known;
  const file = files.get(id);
  if (file === undefined) return undefined;
  const record = withProperties(parseMaterialRecord(file, `materials/${id}.json`));
  records.set(id, record);
  return record;
}

/** Every material of the library as far as it is loaded, in alphabetical order of the ids. */
export function allMaterials(): readonly MaterialRecord[] {
  return libraryIds().map((id) => {
    const record = findMaterial(id);
    assert(record !== undefined, `the library has every id that it lists, ${id} too`);
    return record;
  });
}

function withProperties(record: MaterialRecord): MaterialRecord {
  if (record.propertiesOf === undefined) return record;
  const model = findMaterial(record.propertiesOf);
  assert(model !== undefined, `${record.id} takes its properties from a material of the library`);
  return {
    ...record,
    ...((record.film ?? model.film) ? { film: record.film ?? model.film! } : {}),
    ...((record.hazards ?? model.hazards) ? { hazards: record.hazards ?? model.hazards! } : {}),
  };
}
