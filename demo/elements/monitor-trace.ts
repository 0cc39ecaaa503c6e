import '../../src/elements/monitor-trace/cw-monitor-trace.ts';

export default {
  tag: 'cw-monitor-trace',
  says: 'What the monitor shows, layer after layer, with turning points and cuts.',
  listens: ['cw-chart-cursor'],
  code: `
// Reflectance of glass under a stack at 550 nm, by the characteristic matrix at normal incidence (no absorption).
const reflectance = (stack) => {
  let [br, bi, cr, ci] = [1, 0, 1.52, 0];
  for (const [n, nm] of stack) {
    const phase = (2 * Math.PI * n * nm) / 550;
    const [c, s] = [Math.cos(phase), Math.sin(phase)];
    [br, bi, cr, ci] = [c * br - (s / n) * ci, c * bi + (s / n) * cr, c * cr - s * n * bi, c * ci + s * n * br];
  }
  return ((br - cr) ** 2 + (bi - ci) ** 2) / ((br + cr) ** 2 + (bi + ci) ** 2);
};
const below = [];
const grow = (name, n, end) => {
  const thicknessNm = Float64Array.from({ length: 241 }, (_, i) => (i / 240) * end);
  const level = thicknessNm.map((nm) => reflectance([...below, [n, nm]]));
  const turningPoints = [...level.keys()].slice(1, -1)
    .filter((i) => (level[i] - level[i - 1]) * (level[i + 1] - level[i]) < 0)
    .map((i) => ({ thicknessNm: thicknessNm[i], level: level[i] }));
  below.push([n, end]);
  return { name, signal: 'R', thicknessNm, level, turningPoints, cut: { thicknessNm: end, level: level.at(-1) } };
};
element.layers = [grow('1 Al₂O₃', 1.63, 92), grow('2 Ta₂O₅', 2.1, 131), grow('3 MgF₂', 1.38, 99.6)];
element.playhead = 210;`,
};
