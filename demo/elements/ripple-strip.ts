import '../../src/elements/ripple-strip/cw-ripple-strip.ts';

export default {
  tag: 'cw-ripple-strip',
  says: 'The figures of the whole chain, each with the change that the last edit made.',
  listens: [],
  code: `
element.figures = [
  { name: 'R max', formatted: '0.31', unit: '%', change: -0.04, changeFormatted: '0.04', betterWhen: 'lower', verdict: 'met', note: '≤ 0.40 %' },
  { name: 'Yield', formatted: '92.4', unit: '%', change: -3.1, betterWhen: 'higher', state: 'updating', note: '91.8 to 92.9' },
  { name: 'Lenses a run', formatted: '366', change: 12, betterWhen: 'higher' },
  { name: 'Runs', formatted: '2' },
  { name: 'A run takes', formatted: '3 h 04', change: 7, changeFormatted: '7 min', betterWhen: 'lower', verdict: 'watch' },
  { name: 'Charge', formatted: '41.2', unit: 'g' },
  { name: 'Cost', formatted: '3.20', unit: 'a lens', state: 'stale' },
];`,
};
