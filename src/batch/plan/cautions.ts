/**
 * The usual cautions for a run of an evaporation chamber, in the order in which an operator meets them.
 * Facts of the trade: common practice, no source. They remind; they do not replace the equipment's manual.
 */
const GENERAL: readonly string[] = [
  "Before anything else stand the equipment's manual, the safety data sheets, local codes and the judgement of licensed and trained staff; these lines only remind of them.",
  'Electron beam: several thousand volts. No panel is opened and no gun touched before power is off, locked out and the stored charge is led to earth with the earthing rod.',
  'X-rays, ultraviolet and glare: keep every shield and leaded window in place; look at the melt only through the filter that belongs to the viewport.',
  'Vacuum: chamber and glass viewports are under load of the whole atmosphere (implosion). No knocks, no scratched viewports, eye protection on; vent only by the sequence of the manual.',
  'Heat: lenses, racks, heaters and liners stay hot long after the beam is off. Vent below the temperature on this sheet; lift racks with dry insulating gloves.',
  'Moving racks: the drive is off and locked before a hand goes in; hair, sleeves and cords are tied back.',
  'Dust and flakes when cleaning: extraction and a particle mask that fits; no dry brushing in the open; flakes can smoulder, so they go into a closed metal bin.',
  'Gases: oxygen keeps away from oil and grease; secure the bottles; roughing pump exhaust goes outside.',
  'Cold traps: liquid nitrogen burns skin and displaces air; face shield, cold gloves and a ventilated room.',
];

/** The general cautions, then what the materials in this batch call for. */
export function cautionsFor(
  materials: readonly { readonly label: string; readonly hazards: readonly string[] }[],
): string[] {
  const particular = materials
    .filter(({ hazards }) => hazards.length > 0)
    .map(({ label, hazards }) => `${label}: ${hazards.join('; ')}. See its safety data sheet.`);
  return [...GENERAL, ...particular];
}
