import '../../src/elements/monitor-trace/cw-monitor-trace.ts';

export default {
  tag: 'cw-monitor-trace',
  says: 'What the monitor shows, layer after layer, with turning points and cuts.',
  listens: ['cw-chart-cursor'],
  code: `
const layer = (name, index, quarters, low, high, from) => {
  const quarter = 550 / (4 * index);
  const thicknessNm = Float64Array.from({ length: 121 }, (_, i) => (i / 120) * quarters * quarter);
  const at = (nm) => low + (high - low) * Math.sin((Math.PI / 2) * (nm / quarter) + from) ** 2;
  const turns = [];
  for (let k = 0; k < 4; k += 1) {
    const nm = (k - from / (Math.PI / 2)) * quarter;
    if (nm > 1 && nm < quarters * quarter) turns.push({ thicknessNm: nm, level: at(nm) });
  }
  return { name, signal: 'R', thicknessNm, level: thicknessNm.map(at), turningPoints: turns,
    cut: { thicknessNm: quarters * quarter, level: at(quarters * quarter) } };
};
element.layers = [
  layer('1 Al₂O₃', 1.63, 1.6, 0.042, 0.071, 0),
  layer('2 Ta₂O₅', 2.1, 2.3, 0.047, 0.19, 0),
  layer('3 MgF₂', 1.38, 1.1, 0.004, 0.086, Math.PI / 2),
];
element.playhead = 210;`,
};
