import eyepiece from '../../demo/eyepiece-field-lens.json?raw';
import laserWindow from '../../demo/laser-window-1064.json?raw';
import prismFace from '../../demo/prism-face.json?raw';

/** The invented batches that come with the program, as texts of their files; the first is opened on the first start. */
export const DEMO_BATCHES: readonly string[] = [eyepiece, laserWindow, prismFace];
