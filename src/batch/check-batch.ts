import { InputError } from '../base/errors.ts';
import { requireShield } from '../chamber/shield.ts';
import { findMaterial } from '../materials/library.ts';
import { lensOfLot } from './batch-of-lot.ts';
import type { Batch, Lens, RunRecord, Surface } from './document.ts';
import { within } from './plan/within.ts';
import { coatedSides } from './sides.ts';

/**
 * Checks what no single field can tell: materials known, names unique, sizes that fit into each other.
 * @throws InputError at the first fault.
 */
export function checkBatch(document: Batch): void {
  checkLens(document);
  checkLayers(document);
  checkProcess(document);
  checkLots(document);
  requireMaterial(document, document.monitor.witness.material, 'monitor.witness.material');
  for (const [index, run] of document.runs.entries()) checkRun(document, run, `runs[${index}]`);
}

function checkRun(document: Batch, { spectra, planned }: RunRecord, path: string): void {
  for (const [place, { values, wavelengthNm }] of spectra.entries())
    if (values.length !== wavelengthNm.length)
      throw new InputError(
        `${path}.spectra[${place}].values`,
        `${values.length} values stand against ${wavelengthNm.length} wavelengths`,
      );
  for (const [place, { material }] of (planned?.layers ?? []).entries())
    requireMaterial(document, material, `${path}.planned.layers[${place}].material`);
}

function checkLens({ order: { lens }, fixture }: Batch): void {
  checkSizes(lens, 'order.lens');
  if (2 * fixture.rimMm >= fixture.rackDiameterMm)
    throw new InputError(
      'fixture.rimMm',
      `a rim of ${fixture.rimMm} mm leaves nothing of a rack of ${fixture.rackDiameterMm} mm`,
    );
}

function checkSizes(lens: Lens, path: string): void {
  if (lens.clearApertureMm > lens.diameterMm)
    throw new InputError(
      `${path}.clearApertureMm`,
      `${lens.clearApertureMm} mm is above the diameter of ${lens.diameterMm} mm`,
    );
  for (const field of ['frontRadiusMm', 'backRadiusMm'] as const) {
    const radius = lens[field];
    if (radius !== undefined && Math.abs(radius) < lens.diameterMm / 2)
      throw new InputError(
        `${path}.${field}`,
        `${radius} mm is too strong for a diameter of ${lens.diameterMm} mm; its amount must be at least ${lens.diameterMm / 2} mm`,
      );
  }
}

function checkLayers(document: Batch): void {
  requireMaterial(document, document.order.lens.substrate, 'order.lens.substrate');
  const seen = new Set<string>();
  for (const { side, surface, own } of coatedSides(document)) {
    if (!own) continue;
    checkIncident(document, surface, `surfaces.${side}`);
    for (const [index, layer] of surface.layers.entries()) {
      const path = `surfaces.${side}.layers[${index}]`;
      requireMaterial(document, layer.material, `${path}.material`);
      if (seen.has(layer.id)) throw new InputError(`${path}.id`, `"${layer.id}" names two layers`);
      seen.add(layer.id);
    }
  }
}

function checkIncident(document: Batch, surface: Surface, path: string): void {
  if (typeof surface.incident === 'string') requireMaterial(document, surface.incident, `${path}.incident`);
}

function checkProcess({ chamber, process }: Batch): void {
  const sources = new Set<string>();
  for (const [index, source] of chamber.sources.entries()) {
    if (sources.has(source.id))
      throw new InputError(`chamber.sources[${index}].id`, `"${source.id}" names two sources`);
    sources.add(source.id);
  }
  checkShields(chamber, sources);
  for (const [material, { source, partner }] of Object.entries(process.materials)) {
    const at = `process.materials.${material}`;
    requireSourceId(source, sources, `${at}.source`);
    if (partner === undefined) continue;
    requireSourceId(partner.source, sources, `${at}.partner.source`);
    if (partner.source === source)
      throw new InputError(`${at}.partner.source`, `"${source}" cannot fire together with itself`);
  }
}

function requireSourceId(id: string, sources: ReadonlySet<string>, path: string): void {
  if (sources.has(id)) return;
  const names = [...sources].map((one) => `"${one}"`).join(', ');
  throw new InputError(path, `"${id}" is no source of this chamber; it has ${names}`);
}

function checkShields({ shields = [] }: Batch['chamber'], sources: ReadonlySet<string>): void {
  const names = new Set<string>();
  for (const [index, shield] of shields.entries()) {
    const at = `chamber.shields[${index}]`;
    if (names.has(shield.id)) throw new InputError(`${at}.id`, `"${shield.id}" names two shields`);
    names.add(shield.id);
    if (shield.source !== undefined) requireSourceId(shield.source, sources, `${at}.source`);
    within('chamber', () => requireShield(shield, `shields[${index}]`));
  }
}

function checkLots(document: Batch): void {
  const { order, fixture } = document;
  const names = new Set([order.lot]);
  for (const [index, other] of (fixture.otherLots ?? []).entries()) {
    const at = `fixture.otherLots[${index}]`;
    if (names.has(other.lot))
      throw new InputError(`${at}.lot`, `${JSON.stringify(other.lot)} names two lots`);
    names.add(other.lot);
    checkSizes(lensOfLot(document, other), at);
  }
}

function requireMaterial(document: Batch, id: string, path: string): void {
  if (findMaterial(id, document.materials) === undefined)
    throw new InputError(
      path,
      `"${id}" is no material of the library, and the batch carries none of that name`,
    );
}
