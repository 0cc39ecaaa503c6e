import '../../src/elements/run-timeline/cw-run-timeline.ts';

export default {
  tag: 'cw-run-timeline',
  says: 'A run along time. Arrow keys go from step to step; what decides the total is drawn heavier.',
  listens: ['cw-step-select'],
  code: `
const steps = [];
let now = 0;
const add = (id, label, kind, minutes, startMin = now) => {
  steps.push({ id, label, kind, startS: startMin * 60, durationS: minutes * 60 });
  now = startMin + minutes;
};
add('load', 'Load', 'load', 20);
add('rough', 'Pump to 10 Pa', 'pump', 9);
add('high', 'Pump to 2 mPa', 'pump', 31);
steps.push({ id: 'heat', label: 'Heat to 250 °C', kind: 'heat', startS: 29 * 60, durationS: 26 * 60, slackS: 300 });
add('soak', 'Soak', 'soak', 20);
['Al₂O₃', 'Ta₂O₅', 'MgF₂'].forEach((film, i) => {
  add('pocket-' + i, 'Pocket', 'pocket', 1);
  add('ramp-' + i, 'Ramp', 'ramp', 4);
  add('film-' + i, i + 1 + ' ' + film, 'deposit', [5, 9, 4][i]);
});
add('cool', 'Cool to 80 °C', 'cool', 45);
add('vent', 'Vent', 'vent', 10);
add('unload', 'Unload', 'unload', 15);
element.steps = steps;
element.critical = steps.filter((step) => step.id !== 'heat').map((step) => step.id);
element.clockS = 7.5 * 3600;
element.nowS = 100 * 60;`,
};
