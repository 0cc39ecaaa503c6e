import type { FitAnswer } from '../../src/app/stations/inspect/fit-desk.ts';
import { fitRequest } from '../../src/app/stations/inspect/fit-request.ts';
import { localMoment } from '../../src/app/stations/inspect/moment.ts';
import { capital, counted, fixed, percent, significant } from '../../src/base/format.ts';
import { designNote } from '../../src/batch/design-changes.ts';
import type { Batch, MeasuredSpectrum, RunRecord } from '../../src/batch/document.ts';
import { serialOf } from '../../src/batch/record-code.ts';
import { batchAsRun, coatingAsRun } from '../../src/batch/run-planned.ts';
import { runTask } from '../../src/compute/task.ts';
import fitTask from '../../src/compute/tasks/fit.ts';
import { describeRequirement } from '../../src/design/requirement.ts';
import { controlChart } from '../../src/inspect/control-chart.ts';
import { judgeRun } from '../../src/inspect/judge-run.ts';
import { judgeSpectrum } from '../../src/inspect/judge-spectrum.ts';
import { asPlanned, type LayerFactors, predictCoating, reachOf } from '../../src/inspect/predict-coating.ts';
import { trailOf } from '../../src/inspect/run-log.ts';
import { correctedTooling, pooledTooling } from '../../src/inspect/tooling-correction.ts';
import { pointName, toolingHistories } from '../../src/inspect/tooling-history.ts';
import type { Computed, Known } from './known-figures.ts';

/** What the Inspect station knows of the last run of a log, and what it says of its first spectrum. */
export interface Inspected {
  readonly run: RunRecord;
  readonly spectrum: MeasuredSpectrum;
  readonly fit: FitAnswer;
  /** How the layers of the next run differ from their plan, nothing corrected, and with what the fit tells apart from 1. */
  readonly uncorrected: readonly LayerFactors[];
  readonly corrected: readonly LayerFactors[];
}

/** The last run of a log with its as-built fit by materials; undefined where nothing is measured. */
export async function inspected(batch: Batch): Promise<Inspected | undefined> {
  const run = batch.runs.at(-1);
  const spectrum = run?.spectra[0];
  if (run === undefined || spectrum === undefined) return undefined;
  const surface = coatingAsRun(batch, run);
  const request = fitRequest(batchAsRun(batch, run), surface, spectrum, {
    free: 'materials',
    indexScale: false,
  });
  const fit = (await runTask(fitTask, request)) as FitAnswer;
  const materials = materialsOf(run);
  const factors = run.planned!.layers.map(({ material }) => fit.factors[materials.indexOf(material)]!);
  return {
    run,
    spectrum,
    fit,
    uncorrected: factors.map(({ thicknessFactor }) => ({ thicknessFactor })),
    // A corrected sensor ends the layer where it was planned to end.
    corrected: factors.map((factor) => (isTelling(factor) ? { thicknessFactor: 1 } : factor)),
  };
}

const materialsOf = ({ planned }: RunRecord) => [...new Set(planned!.layers.map(({ material }) => material))];

const isTelling = ({ thicknessFactor, sigma }: FitAnswer['factors'][number]) =>
  Math.abs(thicknessFactor - 1) > 2 * sigma;

/** Every figure of the Inspect station with the last run open. @param shelf all batches that are kept. */
export function atInspect(computed: Computed): Known[] {
  const { batch, inspected: told } = computed;
  return [
    ...(told === undefined
      ? []
      : [...ofLog(batch), ...ofRun(batch, told), ...ofVerdict(batch, told), ...ofFit(computed, told)]),
    ...ofAim(batch),
    ...ofControlCharts(computed),
  ];
}

function ofAim({ process: { aimPercent = 0 } }: Batch): Known[] {
  if (aimPercent === 0) return [];
  return [
    [
      'p',
      `Dashed is what the run aims at on the mean lens place: ${fixed(aimPercent, 1)} % more film than the stack, which is why it is not the curve that Stack shows. Measured and fitted films are held against it.`,
    ],
  ];
}

function ofLog(batch: Batch): Known[] {
  const { runs, trail = [] } = batch;
  return [
    ['h2', `${runs.length} runs logged`],
    ...runs.flatMap(({ number, startedAt, spectra }, index): Known[] => [
      ['h3', `Run ${number}, front`],
      ['text', localMoment(startedAt).replace('T', ' ')],
      ...(index === runs.length - 1
        ? []
        : [['text', counted(spectra.length, 'spectrum', 'spectra')] as const]),
    ]),
    ['text', counted(trail.length, 'entry', 'entries')],
    ...trail.map(({ at, by, run, did }): Known => ['li', `${momentUtc(at)}, ${by}, run ${run}: ${did}`]),
  ];
}

const momentUtc = (at: string) => `${at.slice(0, 10)} ${at.slice(11, 16)} UTC`;

function ofRun(batch: Batch, { run }: Inspected): Known[] {
  const { planned, actual } = run;
  const stages = [
    ['pump', 'pumpMin'],
    ['heat', 'heatMin'],
    ['coat', 'coatMin'],
    ['cool', 'coolMin'],
    ['door to door', 'totalMin'],
  ] as const;
  return [
    ['lenses | Planned', String(planned!.lenses)],
    ...stages.flatMap(([name, field]): Known[] => {
      const [wanted, was] = [planned![field]!, actual![field]!];
      const sign = was < wanted ? '−' : '+';
      const by = Math.abs(was - wanted);
      return [
        [`${name} | Planned`, `${fixed(wanted, 1)} min`],
        [`${name} | Deviation`, `${sign}${fixed(by, 1)} min (${sign}${fixed((100 * by) / wanted, 0)} %)`],
      ];
    }),
    ['p', designNote(batch, run).sentence],
    ['text', String(run.readings!.length)],
    ...run.spectra.map(({ values }): Known => ['text', `${values.length} readings`]),
    ['text', String(run.number)],
    ['text', serialOf({ batchId: batch.id, runId: run.id })],
    ['text', `Trail of run ${run.number}`],
    ['text', counted(trailOf(batch, run).length, 'entry', 'entries')],
    ...trailOf(batch, run).map(({ at, by, did }): Known => ['li', `${momentUtc(at)}, ${by}: ${did}`]),
  ];
}

const SIGNS = { pass: '✓', fail: '✕', 'too-close': '!', 'no-uncertainty': '!', 'not-measured': '–' } as const;
const DOUBTS = {
  pass: '',
  fail: '',
  'too-close': ', too close to the limit to tell',
  'no-uncertainty': ', no pass without an uncertainty',
} as const;

/** What a spectrum says to each requirement, with its expanded uncertainty. */
function verdictsOf(batch: Batch, run: RunRecord, spectrum: MeasuredSpectrum): string[] {
  return judgeSpectrum(batch.surfaces.front.requirements, spectrum, run.uncertaintyPercent ?? 0).map(
    (verdict) => {
      if (verdict.kind === 'not-measured') return `${SIGNS[verdict.kind]} ${verdict.reason}`;
      const { kind, value, expandedUncertainty } = verdict;
      return `${SIGNS[kind]} ${significant(value, 3)} % ± ${fixed(expandedUncertainty, 2)} % measured${DOUBTS[kind]}`;
    },
  );
}

const requirementsOf = (batch: Batch) => batch.surfaces.front.requirements.map(describeRequirement);

function ofVerdict(batch: Batch, { run }: Inspected): Known[] {
  const requirements = requirementsOf(batch);
  const { kind, sentence } = judgeRun(batch, run);
  const words = {
    pass: '✓ Run # passes',
    fail: '✕ Run # fails',
    'too-close': '! Run # is too close to call',
  };
  return [
    ['p', words[kind as keyof typeof words].replace('#', String(run.number))],
    ['p', `${capital(sentence)}.`],
    ...requirements.map((name): Known => [`Place | ${name}`, name]),
    ...run.spectra.flatMap((spectrum): Known[] => [
      [`${spectrum.place} | Place`, spectrum.place!],
      ...verdictsOf(batch, run, spectrum).map(
        (text, at): Known => [`${spectrum.place} | ${requirements[at]}`, text],
      ),
    ]),
  ];
}

function ofFit(
  { batch, plan }: Computed,
  { run, spectrum, fit, uncorrected, corrected }: Inspected,
): Known[] {
  const requirements = requirementsOf(batch);
  const labels = materialsOf(run).map(
    (id) => plan.surfaces[0]!.layers.find(({ material }) => material === id)!.label,
  );
  const named = (sentence: string) =>
    materialsOf(run).reduce(
      (text, id, at) => text.replaceAll(new RegExp(`\\b${id}\\b`, 'g'), labels[at]!),
      sentence,
    );
  const ties = fit.fitted.flatMap((one, row) =>
    fit.fitted.slice(0, row).flatMap((other, column) => {
      const tie = fit.correlation[row]![column]!;
      return Math.abs(tie) > 0.9 ? [`${other} and ${one} (${fixed(tie, 2)})`] : [];
    }),
  );
  const surface = batch.surfaces.front;
  const predicted = (factors: readonly LayerFactors[]) =>
    predictCoating(batch, surface, factors, reachOf([spectrum])).results.map(
      ({ value, met }) => `${met ? '✓' : '✕'} ${significant(value, 3)} %`,
    );
  const next = {
    planned: predicted(asPlanned(surface)),
    'next run, uncorrected': predicted(uncorrected),
    'next run, corrected': predicted(corrected),
  };
  const left = Math.max(...corrected.map(({ thicknessFactor }) => Math.abs(thicknessFactor - 1)));
  return [
    ['p', named(fit.verdict)],
    ...fit.explanations
      .filter(({ probability }) => probability >= 0.005)
      .slice(0, 4)
      .map(
        ({ sentence, probability, residualRmsPercent }): Known => [
          'li',
          `${percent(probability, 1)}: ${named(sentence)}; left over ${fixed(residualRmsPercent, 3)} % rms`,
        ],
      ),
    ['p', `The factors below leave ${fixed(fit.residualRmsPercent, 3)} % rms over.`],
    ...fit.factors.flatMap((factor, at): Known[] => {
      const off = factor.thicknessFactor - 1;
      return [
        [`${labels[at]} | Thickness factor`, fixed(factor.thicknessFactor, 4)],
        [`${labels[at]} | ± one σ`, significant(factor.sigma, 2)],
        [
          `${labels[at]} | Off by`,
          `${off < 0 ? '−' : '+'}${fixed(Math.abs(100 * off), 2)} %${isTelling(factor) ? '' : ' within the doubt'}`,
        ],
      ];
    }),
    [
      'p',
      `Factors that hang together: ${named(ties.join('; '))}. σ follows from the residuals and holds if the indices of the materials are right.`,
    ],
    ...materialsOf(run).map((material, at): Known => {
      const { thicknessFactor, sigma } = fit.factors[at]!;
      const { sensor } = run.planned!.layers.find((layer) => layer.material === material)!;
      const before = run.planned!.tooling[material]![sensor];
      const after = correctedTooling(before, thicknessFactor, sigma);
      return [
        'text',
        `${labels[at]}, ${sensor} tooling ${fixed(before, 4)} → ${fixed(after.tooling, 4)} (± ${significant(after.sigma, 2)})`,
      ];
    }),
    [`Requirement | ${spectrum.name}`, spectrum.name],
    ...requirements.flatMap((name, at): Known[] => [
      [`${name} | Requirement`, name],
      [`${name} | ${spectrum.name}`, verdictsOf(batch, run, spectrum)[at]!],
      ...Object.entries(next).map(([column, texts]): Known => [`${name} | ${column}`, texts[at]!]),
    ]),
    [
      'p',
      `Layers would be off by up to ${fixed(100 * left, 2)} % still. The doubt of the fitted factors and the scatter from run to run come on top.`,
    ],
  ];
}

function ofControlCharts({ batch, shelf }: Computed): Known[] {
  const others = shelf.filter(({ id, runs }) => id !== batch.id && runs.length > 0);
  const isJoint = others.length > 0;
  return [
    ...(isJoint
      ? [
          [
            'p',
            `${counted(others.length, 'other batch', 'other batches')} kept in this browser has noted a tooling for ${batch.chamber.name}; runs stand in the order in which they were started. A tooling holds for one chamber and the places of its lenses: where a fixture or a sensor has moved between two lots, the step is no drift.`,
          ] as const,
        ]
      : []),
    ...toolingHistories([batch, ...others]).flatMap(({ material, source, sensor, points }): Known[] => {
      const title = `${CHEMISTS[material]} from ${source}, ${sensor} tooling`;
      const chart = controlChart(
        points.map(({ tooling }) => tooling),
        points.map((point) => pointName(point, isJoint)),
      )!;
      const pooled = pooledTooling(points)!;
      return [
        ['h3', title],
        [
          'p',
          `Centre ${fixed(chart.centre, 4)}, limits ${fixed(chart.lower, 4)} to ${fixed(chart.upper, 4)}; from run to run ${significant((100 * chart.sigma) / chart.centre, 2)} % (one σ). ${points.length} runs: limits from fewer than 20 are rough.`,
        ],
        ...chart.alarms.map(({ sentence }): Known => ['li', `Drift alarm: ${sentence}.`]),
        [
          'p',
          `All runs together, weighted by their certainty: ${fixed(pooled.tooling, 4)} ± ${significant(pooled.sigma, 2)}. Where there is no alarm, this serves the next run better than the last run alone.`,
        ],
        ['text', `${points.length} runs`],
        ...points.flatMap(({ lot, run, startedAt, tooling, sigma }): Known[] => {
          const row = `${title}: runs | run ${run}`;
          return [
            [`${row} | Lot`, lot],
            [`${row} | Run`, `run ${run}`],
            [`${row} | Started`, localMoment(startedAt).slice(0, 10)],
            [`${row} | Tooling`, fixed(tooling, 4)],
            [`${row} | ± one σ`, significant(sigma, 2)],
          ];
        }),
      ];
    }),
  ];
}

/** Formulas as chemists write them. */
export const CHEMISTS: Readonly<Record<string, string>> = { ta2o5: 'Ta₂O₅', sio2: 'SiO₂' };
