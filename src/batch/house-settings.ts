import type { Chamber, Fixture, MaterialProcess, MonitorSettings, Process } from './document.ts';

/**
 * The chamber, the fixture and the process that a new batch starts from: a middle-sized box coater with four
 * planets, one electron-beam gun and one boat. Invented, with figures as they are usual in the trade (common
 * practice, no source); every one is meant to be replaced by the shop's own.
 */
export const HOUSE_CHAMBER: Chamber = {
  name: 'Box coater (house settings, replace by your own)',
  diameterMm: 1100,
  heightMm: 1250,
  volumeM3: 1.25,
  sources: [
    { id: 'gun-1', kind: 'e-beam', offsetMm: 260, azimuthDeg: 0, exponent: 2, pockets: 6, pocketCm3: 12 },
    { id: 'boat-1', kind: 'boat', offsetMm: 260, azimuthDeg: 150, exponent: 1, pockets: 2, pocketCm3: 8 },
  ],
  startPa: 101_325,
  pumps: [
    { name: 'roughing', speedM3PerS: 0.022, loadPaM3PerS: 0.02, untilPa: 12 },
    { name: 'high vacuum', speedM3PerS: 2.6, loadPaM3PerS: 0.0005, untilPa: 0.001 },
  ],
  outgassing: { areaM2: 11, rateAfter1hPaM3PerSM2: 9e-5 },
  ambientC: 22,
  heatTimeConstantMin: 28,
  coolTimeConstantMin: 40,
  heaterC: 240,
  ventBelowC: 80,
  crystals: { count: 6, frequencyHz: 6e6, budgetHz: 250_000, changeS: 20 },
};

export const HOUSE_FIXTURE: Fixture = {
  racks: 4,
  rackDiameterMm: 360,
  rimMm: 8,
  webMm: 2,
  holderRingMm: 2,
  pattern: 'best',
  witnessesPerRack: 1,
  keepOut: [],
  carrierRadiusMm: 285,
  heightMm: 900,
  tiltDeg: 18,
  carrierTurnsPerMin: 12,
};

/** Settings of a material that the batch says nothing about, by the kind of its usual source. */
export function houseProcess(
  source: string,
  kind: 'e-beam' | 'boat',
  rateNmPerS: number,
  oxygenPa: number,
): MaterialProcess {
  return {
    source,
    rateNmPerS,
    rampS: kind === 'e-beam' ? 120 : 60,
    soakS: kind === 'e-beam' ? 90 : 40,
    shutterDelayS: 0.4,
    oxygenPa,
    oxygenSettleS: oxygenPa > 0 ? 60 : 0,
    witnessTooling: 1,
    crystalTooling: 1,
    chargeReservePercent: 60,
  };
}

export const HOUSE_PROCESS: Process = {
  temperatureC: 200,
  soakMin: 20,
  loadMin: 20,
  ventMin: 8,
  unloadMin: 12,
  cleanMin: 25,
  cleanEveryRuns: 2,
  pocketChangeS: 25,
  materials: {},
};

export const HOUSE_MONITOR: MonitorSettings = {
  witness: { material: '517642', thicknessMm: 1, backSurface: 'none' },
  wavelengthNm: 550,
  signal: 'R',
  rule: 'crystal', // serves any layer; which level serves depends on the stack
  bandwidthNm: 4,
  incidenceDeg: 0,
  noise: {
    signalPercent: 0.05,
    driftPercentPerMin: 0.01,
    rateNoisePercent: 5,
    rateBiasPercent: 0,
    crystalPercent: 1,
    shutterDelayS: 0.2,
    sampleS: 0.5,
  },
  layers: {},
};
