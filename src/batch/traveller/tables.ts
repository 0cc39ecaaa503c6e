import { csvText } from '../../base/csv.ts';
import type { Batch } from '../document.ts';
import { lotRuns } from '../plan/lot-runs.ts';
import type { Plan } from '../plan/plan-types.ts';

/** A table of the plan; `name` is that of its file without the ending. */
export interface PlanTable {
  readonly name: string;
  readonly csv: string;
}

/** The plan's tables for spreadsheets: stack, steps, charge and cuts of every side, the lot's runs, what stands in every load, the places of a rack. */
export function planTables(batch: Batch, plan: Plan): PlanTable[] {
  const { surfaces, runs, load, lot } = plan;
  return [
    {
      name: 'stack',
      csv: csvText(
        [
          'side',
          'layer',
          'material',
          'thickness nm',
          'quarter waves',
          'reference wavelength nm',
          'index change %',
        ],
        surfaces.flatMap(({ side, layers, referenceWavelengthNm }) =>
          layers.map((layer, index) => [
            side,
            index + 1,
            layer.label,
            layer.thicknessNm,
            layer.quarterWaves,
            referenceWavelengthNm,
            layer.grading?.indexChangePercent ?? 0,
          ]),
        ),
      ),
    },
    {
      name: 'spectrum',
      csv: csvText(
        ['side', 'incidence deg', 'wavelength nm', 'R', 'T', 'A'],
        surfaces.flatMap(({ side, wavelengthNm, curves }) =>
          curves.flatMap(({ incidenceDeg, mean }) =>
            Array.from(wavelengthNm, (nm, index) => [
              side,
              incidenceDeg,
              nm,
              mean.R[index]!,
              mean.T[index]!,
              mean.A[index]!,
            ]),
          ),
        ),
      ),
    },
    {
      name: 'steps',
      csv: csvText(
        ['side', 'step', 'starts s', 'takes s', 'set by'],
        runs.flatMap(({ side, steps }) =>
          steps.map((step) => [side, step.label, step.startS, step.durationS, step.limitedBy]),
        ),
      ),
    },
    {
      name: 'charge',
      csv: csvText(
        ['side', 'material', 'source', 'pockets', 'used g', 'charge g'],
        runs.flatMap(({ side, charge }) =>
          charge.map((item) => [side, item.label, item.source, item.pockets, item.netMassG, item.massG]),
        ),
      ),
    },
    {
      name: 'cuts',
      csv: csvText(
        [
          'side',
          'layer',
          'material',
          'signal',
          'wavelength nm',
          'rule',
          'start',
          'cut',
          'swing %',
          'crystal nm',
          'drop Hz',
          'left Hz',
          'note',
        ],
        runs.flatMap(({ side, cuts }) =>
          cuts.map((cut, index) => [
            side,
            index + 1,
            cut.label,
            cut.signal,
            cut.wavelengthNm,
            cut.rule,
            cut.startLevel,
            cut.endLevel,
            cut.swingPercent,
            cut.crystalThicknessNm,
            cut.crystalDropHz,
            cut.crystalLeftHz,
            cut.note,
          ]),
        ),
      ),
    },
    {
      name: 'loads',
      csv: csvText(
        ['from load', 'to load', 'rack', 'lot', 'lenses', 'witnesses', 'dummies'],
        lot.rows.flatMap(({ from, to, racks }) =>
          racks.map((rack, index) => [
            from,
            to,
            index + 1,
            rack.lot,
            rack.lenses,
            rack.witnesses,
            rack.dummies,
          ]),
        ),
      ),
    },
    {
      name: 'runs',
      csv: csvText(
        [
          'run',
          'load',
          'side',
          'lenses',
          'load from',
          'alone from',
          'unload from',
          'done',
          'fill up before',
          'after',
        ],
        lotRuns(batch, plan).map((run) => [
          run.number,
          run.load,
          run.side,
          run.lenses,
          run.calendar?.begins ?? '',
          run.calendar?.aloneFrom ?? '',
          run.calendar?.unloadFrom ?? '',
          run.calendar?.ends ?? '',
          run.refills.join('; '),
          run.isCleanedAfter ? 'clean, change liners' : '',
        ]),
      ),
    },
    {
      name: 'places',
      csv: csvText(
        ['place', 'x mm', 'y mm', 'use'],
        load.places.map(({ xMm, yMm, use }, index) => [index + 1, xMm, yMm, use]),
      ),
    },
  ];
}
