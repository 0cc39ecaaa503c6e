/** An order to start from: what it is for, and the line that says it. */
export interface OrderTemplate {
  readonly id: string;
  readonly name: string;
  /** When one takes it, in a sentence. */
  readonly use: string;
  readonly line: string;
}

/** What a batch that was started from a template says of itself. */
export const TEMPLATE_NOTE =
  'Started from a template: its lens, quantity and limits are invented. Replace them by those of your drawing.';

/** Lenses and quantities are invented; limits are common practice, no source. */
export const ORDER_TEMPLATES: readonly OrderTemplate[] = [
  {
    id: 'eyepiece-visible',
    name: 'Eyepiece lens, visible',
    use: 'For the eye: low reflectance over the visible, with a cap on the worst wavelength.',
    line: '"Eyepiece eye lens" 517642, d 24, CT 5.5, R1 38.6 R2 -38.6, 300 pcs, both sides, R avg <= 0.4 % 430-670 nm 0-25 deg, R max <= 0.9 % 430-670 nm 0 deg',
  },
  {
    id: 'single-film',
    name: 'One film, green',
    use: 'The simplest coating there is: one film of a low index, best in the green.',
    line: '"Loupe lens" 620364, d 30, CT 6, R1 62 R2 -62, 150 pcs, both sides, R avg <= 1.7 % 450-650 nm',
  },
  {
    id: 'ranging-line',
    name: 'One laser line of a surveying instrument',
    use: 'Next to nothing at the line and close around it; the rest of the spectrum is free.',
    line: '"Distance-meter objective" 517642, d 38, CT 7, R1 96 R2 plane, 120 pcs, both sides, R max <= 0.25 % 630-640 nm 0-5 deg',
  },
  {
    id: 'eye-and-ranging',
    name: 'Two bands: the eye and a ranging laser',
    use: 'One objective for both: the visible for the eye, a near infrared line for the distance meter.',
    line: '"Telescope objective, front" 517642, d 42, CT 8, R1 118 R2 -310, 80 pcs, both sides, R avg <= 0.8 % 450-650 nm, R max <= 1.2 % 895-915 nm',
  },
  {
    id: 'steep-surface',
    name: 'Steep surface: low angle shift',
    use: 'Strongly curved lenses, where light meets the rim aslant: the band holds at several angles.',
    line: '"Wide-field eyepiece lens" 620364, d 20, CT 7.5, R1 17.5 R2 plane, 250 pcs, front side only, R avg <= 0.8 % 430-670 nm 0/15/30 deg',
  },
];
