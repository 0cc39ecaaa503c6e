import type { Requirement } from './requirement.ts';

/** A callout of the trade with its usual figures, to start from. */
export interface RequirementTemplate {
  readonly id: string;
  readonly name: string;
  /** When one asks for it, in a sentence. */
  readonly use: string;
  readonly requirements: readonly Requirement[];
}

const reflectanceBelow = (
  statistic: 'mean' | 'max',
  limit: number,
  bandNm: readonly [number, number],
  incidenceDeg: readonly number[] = [0],
): Requirement => ({
  quantity: 'R',
  statistic,
  limit,
  sense: 'below',
  bandNm,
  incidenceDeg,
  polarization: 'mean',
  weight: 1,
});

/** Figures are common practice, no source. */
export const REQUIREMENT_TEMPLATES: readonly RequirementTemplate[] = [
  {
    id: 'visible-broadband',
    name: 'Visible broadband',
    use: 'Lenses for the eye: low reflectance across the visible, with a cap on its worst point.',
    requirements: [reflectanceBelow('mean', 0.4, [430, 670]), reflectanceBelow('max', 0.8, [430, 670])],
  },
  {
    id: 'single-layer',
    name: 'Single layer, green',
    use: 'The classic one layer of magnesium fluoride, centred in the green.',
    requirements: [reflectanceBelow('mean', 1.8, [450, 650])],
  },
  {
    id: 'v-coat',
    name: 'V-coat at a line',
    use: 'Laser rangefinders: next to nothing at one line and close around it, the rest free.',
    requirements: [reflectanceBelow('max', 0.2, [527, 537])],
  },
  {
    id: 'two-bands',
    name: 'Two bands',
    use: 'Surveying instruments: the eye looks through the same lens that a rangefinder uses.',
    requirements: [reflectanceBelow('mean', 0.6, [450, 650]), reflectanceBelow('max', 0.6, [890, 920])],
  },
  {
    id: 'low-angle-shift',
    name: 'Low angle shift',
    use: 'Steep eyepiece surfaces: the visible band must hold for light that arrives aslant too.',
    requirements: [reflectanceBelow('mean', 0.6, [430, 670], [0, 15, 30])],
  },
];
