import { rehearse } from '../rehearse/rehearse.ts';
import { rehearseShape } from '../rehearse/rehearse-shapes.ts';
import { defineTask } from '../task.ts';

export default defineTask({
  name: 'rehearse',
  summary: 'Many virtual runs that cut on noisy signals: thickness errors, yield and missed cuts.',
  request: rehearseShape,
  example: {
    incident: 1,
    layers: [
      { material: 'al2o3', thicknessNm: 84 },
      { material: 'mgf2', thicknessNm: 99.6 },
    ],
    substrate: '517642',
    requirements: [{ quantity: 'R', statistic: 'mean', limit: 0.9, bandNm: [500, 600] }],
    monitor: {
      witness: { substrate: '517642', thicknessMm: 1, backSurface: 'none' },
      layers: [
        { wavelengthNm: 500, signal: 'R', bandwidthNm: 4, rule: 'level' },
        { wavelengthNm: 550, signal: 'R', rule: 'turning-point', newWitness: true },
      ],
    },
    noise: {
      signalPercent: 0.05,
      driftPercentPerMin: 0.01,
      rateNoisePercent: 5,
      rateBiasPercent: 0,
      crystalPercent: 1,
      shutterDelayS: 0.2,
      sampleS: 0.25,
    },
    rateNmPerS: [0.4, 0.8],
    runs: 100,
    seed: 1,
  },
  run: (request, context) => rehearse(request, context),
});
