import { localMoment } from '../../src/app/stations/inspect/moment.ts';
import type { Batch } from '../../src/batch/document.ts';
import { heatLimit } from '../../src/batch/plan/heat-limit.ts';
import type { Computed, TracedStation } from './known-figures.ts';

/** A field as it stands: what it is called, its figure and its unit. */
export type KnownField = readonly [label: string, value: number | undefined, unit: string];

const PA_PER_MBAR = 100;
const HZ_PER_MHZ = 1e6;

/** The quantities of a station with the batch's figures, in the units in which the shop reads them; front side shown. */
function fieldsAt(station: TracedStation, computed: Computed): KnownField[] {
  switch (station) {
    case 'order':
      return ofOrder(computed.batch);
    case 'stack':
      return ofStack(computed);
    case 'load':
      return ofLoad(computed.batch);
    case 'run':
      return [...ofRun(computed.batch), ...ofMaterials(computed)];
    case 'monitor':
      return ofMonitor(computed);
    case 'inspect':
      return ofInspect(computed.batch);
  }
}

/** Every field with a figure in it, in the words of the screen. */
export function fieldTexts(station: TracedStation, computed: Computed): string[] {
  return [
    ...fieldsAt(station, computed).map(fieldText),
    ...textsAt(station, computed.batch).filter((text) => /\d/.test(text ?? '')),
  ].toSorted() as string[];
}

function fieldText([label, value, unit]: KnownField): string {
  return `${label}: ${value === undefined ? '' : Number(value.toPrecision(7))} ${unit}`.trim();
}

function ofOrder({ order, surfaces }: Batch): KnownField[] {
  const { lens } = order;
  return [
    ['Good lenses', order.quantity, ''],
    ['Reserve for rejects', order.rejectReservePercent, '%'],
    ['Diameter', lens.diameterMm, 'mm'],
    ['Clear aperture', lens.clearApertureMm, 'mm'],
    ['Centre thickness', lens.centreThicknessMm, 'mm'],
    ['Front radius (empty: plane)', lens.frontRadiusMm, 'mm'],
    ['Back radius (empty: plane)', lens.backRadiusMm, 'mm'],
    ['Must not be hotter than', lens.maximumTemperatureC, '°C'],
    ...surfaces.front.requirements.flatMap(({ limit, bandNm: [from, to] }): KnownField[] => [
      ['limit', limit, '%'],
      ['band from', from, 'nm'],
      ['band to', to, 'nm'],
    ]),
  ];
}

function ofStack({ plan }: Computed): KnownField[] {
  const { layers } = plan.surfaces[0]!;
  return [
    ...layers.flatMap(({ thicknessNm, quarterWaves }, index): KnownField[] => [
      [`Front layer ${index + 1}: thickness`, thicknessNm, 'nm'],
      [`Front layer ${index + 1}: quarter waves`, Number(quarterWaves.toPrecision(4)), ''],
    ]),
    ...layers.map(({ label }, index): KnownField => [`Layer ${index + 1}, ${label}`, 0, '%']),
    // What a search and a tolerance begin with; nothing of it belongs to the batch.
    ['Most layers', 6, ''],
    ['Thinnest layer', 8, 'nm'],
    ['Thickest stack', 5000, 'nm'],
    ['Seed of the search', 1, ''],
    ['Thickness, relative', 2, '%'],
    ['Thickness, absolute', 0, 'nm'],
    ['Index', 0, '%'],
    ['Trials', 1000, ''],
    ['Seed of the trials', 1, ''],
    ["Half angle of the rays' cone", 10, '°'],
  ];
}

function ofLoad({ fixture, chamber, process }: Batch): KnownField[] {
  return [
    ['Diameter', fixture.rackDiameterMm, 'mm'],
    ['Rim kept free', fixture.rimMm, 'mm'],
    ['Web between holes', fixture.webMm, 'mm'],
    ['Holder ring', fixture.holderRingMm, 'mm'],
    ['Witnesses on a rack', fixture.witnessesPerRack, ''],
    ['Racks', fixture.racks, ''],
    ["Machine's axis to rack's axis", fixture.carrierRadiusMm, 'mm'],
    ['Height above the sources', fixture.heightMm, 'mm'],
    ['Tilt towards the axis', fixture.tiltDeg, '°'],
    ['Rack turns for one of the carrier', fixture.gearRatio, ''],
    ['Carrier turns', fixture.carrierTurnsPerMin, '1/min'],
    ...chamber.sources.flatMap(({ id, offsetMm, azimuthDeg, heightMm = 0, exponent }): KnownField[] => [
      [`${id} from the axis`, offsetMm, 'mm'],
      ['Direction', azimuthDeg, '°'],
      ['Height', heightMm, 'mm'],
      ['Emission exponent', exponent, ''],
    ]),
    ['Film aimed at, over the stack', process.aimPercent ?? 0, '%'],
  ];
}

const threeDigits = (value: number | undefined) =>
  value === undefined ? undefined : Number(value.toPrecision(3));

function ofRun(batch: Batch): KnownField[] {
  const { process, chamber, money, fixture } = batch;
  const { outgassing, crystals } = chamber;
  return [
    ['Process temperature', process.temperatureC, '°C'],
    ['Soak', process.soakMin, 'min'],
    ['Loading', process.loadMin, 'min'],
    ['Venting', process.ventMin, 'min'],
    ['Unloading', process.unloadMin, 'min'],
    ['Pocket change', process.pocketChangeS, 's'],
    ['Cleaning', process.cleanMin, 'min'],
    ['Cleaned every so many runs', process.cleanEveryRuns, ''],
    ['Inner diameter', chamber.diameterMm, 'mm'],
    ['Inner height', chamber.heightMm, 'mm'],
    ['Volume', chamber.volumeM3, 'm³'],
    ...chamber.pumps.flatMap(({ speedM3PerS, loadPaM3PerS, untilPa }, index): KnownField[] => [
      ['Speed at the chamber', speedM3PerS, 'm³/s'],
      ['Gas load', loadPaM3PerS, 'Pa·m³/s'],
      [index === chamber.pumps.length - 1 ? 'Down to' : 'Crossover at', untilPa / PA_PER_MBAR, 'mbar'],
    ]),
    ['Outgassing area', outgassing?.areaM2, 'm²'],
    ['Outgassing after 1 h', outgassing?.rateAfter1hPaM3PerSM2, 'Pa·m³/(s·m²)'],
    ['Chamber stands open for', 30, 'min'],
    ['Heaters drive towards', chamber.heaterC, '°C'],
    ['Time constant, heating', chamber.heatTimeConstantMin, 'min'],
    ['Time constant, cooling', chamber.coolTimeConstantMin, 'min'],
    ['Vent below', chamber.ventBelowC, '°C'],
    ['Room', chamber.ambientC, '°C'],
    ['Fastest change of temperature', threeDigits(heatLimit(batch)?.rateKPerMin), 'K/min'],
    ...chamber.sources.flatMap(({ offsetMm, azimuthDeg, exponent, pockets, pocketCm3 }): KnownField[] => [
      ["From the machine's axis", offsetMm, 'mm'],
      ['Direction', azimuthDeg, '°'],
      ['Emission exponent', exponent, ''],
      ['Pockets', pockets, ''],
      ['A pocket holds', pocketCm3, 'cm³'],
    ]),
    ['Crystals in the holder', crystals.count, ''],
    ['Frequency, fresh', crystals.frequencyHz / HZ_PER_MHZ, 'MHz'],
    ['Changed after a drop of', crystals.budgetHz, 'Hz'],
    ['A change takes', crystals.changeS, 's'],
    ["From the machine's axis", 0, 'mm'],
    ['Above the sources', fixture.heightMm, 'mm'],
    ['Price of a crystal', undefined, 'per crystal'],
    ['Machine', money?.machinePerHour, 'per h'],
    ['Labour', money?.labourPerHour, 'per h'],
    ['Attended share of a run', money?.attendedPercent, '%'],
    ['Worth of a lens', money?.lensValue, 'per lens'],
    // What other ways to run the lot begin with.
    ['Rates, of what they are', 125, '%'],
    ['Pump speed, of what it is', 150, '%'],
    ['Racks on the carrier', Math.max(1, fixture.racks - 1), ''],
    ['Diameter of the racks', Math.round(1.1 * fixture.rackDiameterMm), 'mm'],
  ];
}

function ofMaterials({ batch, plan }: Computed): KnownField[] {
  const labels = new Map(plan.surfaces[0]!.layers.map(({ material, label }) => [material, label]));
  return [...labels].flatMap(([id, label]): KnownField[] => {
    const own = batch.process.materials[id]!;
    return [
      [`${label}: rate`, own.rateNmPerS, 'nm/s'],
      [`${label}: ramp`, own.rampS, 's'],
      [`${label}: soak`, own.soakS, 's'],
      [`${label}: shutter delay`, own.shutterDelayS, 's'],
      [`${label}: oxygen`, own.oxygenPa / PA_PER_MBAR, 'mbar'],
      [`${label}: oxygen settling`, own.oxygenSettleS, 's'],
      [`${label}: witness tooling`, own.witnessTooling, ''],
      [`${label}: crystal tooling`, own.crystalTooling, ''],
      [`${label}: charge reserve`, own.chargeReservePercent, '%'],
      [`${label}: price`, own.pricePerG, 'per g'],
    ];
  });
}

function ofMonitor({ batch, plan }: Computed): KnownField[] {
  const { noise, witness, wavelengthNm, bandwidthNm } = batch.monitor;
  const [cut] = plan.runs[0]!.cuts;
  return [
    ...batch.surfaces.front.layers.map(
      ({ id }, index): KnownField => [
        `Front layer ${index + 1}: monitoring wavelength`,
        batch.monitor.layers[id]?.wavelengthNm ?? wavelengthNm,
        'nm',
      ],
    ),
    ['Witness thickness', witness.thicknessMm, 'mm'],
    ['Wavelength, unless a layer has its own', wavelengthNm, 'nm'],
    ['Bandwidth', bandwidthNm, 'nm'],
    ['Angle of the light', 0, '°'],
    ['Signal noise', noise.signalPercent, '%'],
    ['Signal drift', noise.driftPercentPerMin, '%/min'],
    ['Rate noise', noise.rateNoisePercent, '%'],
    ['Rate off by', noise.rateBiasPercent, '%'],
    ['Crystal scatter', noise.crystalPercent, '%'],
    ['Shutter delay', noise.shutterDelayS, 's'],
    ['Sampled every', noise.sampleS, 's'],
    // Figures of the shop's own, which no demo batch has.
    ['Gain error, once a witness', undefined, '%'],
    ['Rate noise lasts', undefined, 's'],
    ['Source dies away by', undefined, '%/min'],
    ['Spits', undefined, '1/min'],
    ['A spit adds', undefined, 'nm'],
    ['Tooling scatter, each layer', undefined, '%'],
    ['Tooling drift, layer to layer', undefined, '%'],
    ['Index, off its record by', undefined, '%'],
    ['Life on average, of the budget', undefined, '%'],
    ['Life scatters by', undefined, '%'],
    ['Used up, it jitters by', undefined, 'nm'],
    ['Used up, it reads off by', undefined, '%'],
    // What virtual runs and a rehearsal begin with.
    ['Virtual runs', 1000, ''],
    ['Seed', 1, ''],
    ['Seed of the rehearsal', 1, ''],
    [`Layer 1, ${cut!.label}, really`, Number(cut!.thicknessNm.toPrecision(4)), 'nm'],
  ];
}

function ofInspect({ runs }: Batch): KnownField[] {
  const run = runs.at(-1);
  if (run === undefined) return [];
  const { actual } = run;
  return [
    ['lenses, actual', actual?.lenses, ''],
    ['pump, actual', actual?.pumpMin, 'min'],
    ['heat, actual', actual?.heatMin, 'min'],
    ['coat, actual', actual?.coatMin, 'min'],
    ['cool, actual', actual?.coolMin, 'min'],
    ['door to door, actual', actual?.totalMin, 'min'],
    ...run.spectra.map(({ incidenceDeg }): KnownField => ['Measured at', incidenceDeg, '°']),
    ['Uncertainty of a reading, one standard deviation', run.uncertaintyPercent, '%'],
  ];
}

const HOUR_MIN = 60;

/** The fields of a station that hold texts, dates and times. */
function textsAt(
  station: TracedStation,
  { order, surfaces, monitor, calendar, runs }: Batch,
): (string | undefined)[] {
  const clockText = (minutes: number) =>
    [Math.floor(minutes / HOUR_MIN), minutes % HOUR_MIN]
      .map((part) => String(part).padStart(2, '0'))
      .join(':');
  const run = runs.at(-1);
  switch (station) {
    case 'order':
      return [
        ...[order.title, order.lot, order.customer, order.drawing, order.note, order.lens.substrate],
        ...surfaces.front.requirements.map(({ incidenceDeg }) => incidenceDeg.join(', ')),
      ];
    case 'run':
      return calendar === undefined
        ? []
        : [
            calendar.firstDay,
            ...calendar.shifts.flatMap(({ fromMin, toMin }) => [clockText(fromMin), clockText(toMin)]),
          ];
    case 'monitor':
      return [monitor.witness.material];
    case 'inspect':
      return run === undefined
        ? []
        : [
            ...[localMoment(run.startedAt), run.operator, run.note],
            ...(run.readings ?? []).flatMap(({ what, value }) => [what, value]),
            ...run.spectra.flatMap(({ name, place }) => [name, place]),
          ];
    default:
      return [];
  }
}
