import type { Station } from '../routes.ts';

/** One step of the tour: where it leads, what it points at, and what it says there. */
export interface TourStep {
  readonly station: Station;
  readonly points: 'station' | 'figures';
  readonly title: string;
  readonly words: string;
}

/** The tour of the bench, along a lot's own way. */
export const TOUR_STEPS: readonly TourStep[] = [
  {
    station: 'order',
    points: 'station',
    title: 'Everything follows from the order',
    words:
      'Lens, quantity and what its faces have to do. Change any of it and all that comes after is computed anew, at once.',
  },
  {
    station: 'stack',
    points: 'station',
    title: 'The films, to scale',
    words:
      'Drag a boundary or type a thickness: spectrum, limits and residual colour follow your hand. A search finds other stacks.',
  },
  {
    station: 'stack',
    points: 'figures',
    title: 'What the last edit did',
    words:
      'These figures stay in sight at every station, each with its change. One that takes longer says "updating" until it is right. Ctrl+Z takes an edit back.',
  },
  {
    station: 'load',
    points: 'station',
    title: 'How many go in',
    words:
      'The rack from above with every place on it, the film that each place gets, and the number of runs.',
  },
  {
    station: 'run',
    points: 'station',
    title: 'When the lot is done',
    words: 'Every step of a run with its time, what to charge, and when crystals and pockets need a change.',
  },
  {
    station: 'monitor',
    points: 'station',
    title: 'Where to cut',
    words:
      'What the signal will do while each layer grows. Rehearse the run and close the shutter yourself; a miss can be rescued.',
  },
  {
    station: 'inspect',
    points: 'station',
    title: 'What came out',
    words:
      'Drop a measured spectrum here: the films as built are found, and the corrections carried into the next run. For a lot of your own press Alt+N, or take "Order from a line" in the menu.',
  },
];
