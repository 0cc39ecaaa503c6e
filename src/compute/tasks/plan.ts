import { VERSION } from '../../base/version.ts';
import { checkBatch } from '../../batch/check-batch.ts';
import { type Batch, batch } from '../../batch/document.ts';
import { fingerprintOf, shortFingerprint } from '../../batch/fingerprint.ts';
import { newBatch } from '../../batch/new-batch.ts';
import { costLot } from '../../batch/plan/lot-cost.ts';
import { computePlan } from '../../batch/plan/plan.ts';
import type { Plan } from '../../batch/plan/plan-types.ts';
import { computeYield, YIELD_RUNS } from '../../batch/plan/yield-plan.ts';
import { planTables } from '../../batch/traveller/tables.ts';
import { travellerPage } from '../../batch/traveller/traveller-html.ts';
import { certificatePage } from '../../inspect/certificate/certificate-html.ts';
import { defineTask } from '../task.ts';

/** CONTRACT's `plan`: a batch document in, the whole chain out; the traveller and the tables as papers. */
export default defineTask({
  name: 'plan',
  summary: 'A whole batch planned: stack, load, run, charge, monitor, yield.',
  request: batch,
  get example() {
    return newBatch('example'); // made when asked for: it searches for a first stack
  },
  async run(document, context) {
    checkBatch(document);
    const plan = computePlan(document);
    const yields = await computeYield(document, YIELD_RUNS, context, plan);
    const first = plan.runs[0];
    return {
      origin: originOf(document),
      stack: plan.surfaces.map(({ side, layers, totalThicknessNm, requirements }) => ({
        side,
        layers,
        totalThicknessNm,
        requirements,
      })),
      spectrum: plan.surfaces.map(({ side, wavelengthNm, curves, residual }) => ({
        side,
        wavelengthNm,
        curves,
        residual,
      })),
      load: plan.load,
      runs: plan.lot.runs,
      lot: lotWith(plan, yields.yield),
      /** Of one run of the front side; `sides` has every side's. */
      schedule: scheduleOf(plan, 0),
      totalS: first?.totalS ?? 0,
      /** Of one run of the front side. */
      charge: first?.charge ?? [],
      monitor: first?.cuts ?? [],
      sides: plan.runs.map(({ side, totalS, charge, cuts }, index) => ({
        side,
        schedule: scheduleOf(plan, index),
        totalS,
        charge,
        monitor: cuts,
      })),
      yield: yields.yield,
      yield95: yields.yield95,
      yields: yields.surfaces.map(
        ({ side, yield: share, yield95, meanPlaceYield, missedCuts, sensitivity }) => ({
          side,
          yield: share,
          yield95,
          meanPlaceYield,
          missedCuts,
          sensitivity,
        }),
      ),
      cautions: plan.cautions,
      warnings: plan.warnings,
    };
  },
  papers(document: Batch) {
    const plan = computePlan(document);
    const origin = originOf(document);
    return {
      html: travellerPage(document, plan, origin),
      tables: planTables(document, plan),
      certificates: document.runs.map((run) => ({
        name: `certificate-${run.id}`,
        html: certificatePage({ batch: document, run, origin }),
      })),
    };
  },
});

/** The lot with its cost by the computed yield; what the cost follows from stays inside. */
function lotWith({ lot: { costing, cost: _, costPerLens: __, ...lot } }: Plan, goodShare: number) {
  const costed = costing === undefined ? undefined : costLot(costing, goodShare);
  if (costed === undefined) return lot;
  const { cost, by, deliveredLenses, lostLenses, shortLenses } = costed;
  return {
    ...lot,
    cost,
    costPerLens: cost.perGoodLens,
    costBy: by,
    deliveredLenses,
    lostLenses,
    shortLenses,
  };
}

/** What the printed pages say of where they came from; `printed` is the fingerprint as it stands there. */
function originOf(document: Batch) {
  const fingerprint = fingerprintOf(document);
  return { version: VERSION, fingerprint, printed: shortFingerprint(fingerprint) };
}

function scheduleOf({ runs }: Plan, index: number) {
  return (runs[index]?.steps ?? []).map(({ id, label, kind, startS, durationS, limitedBy, critical }) => ({
    step: label,
    id,
    kind,
    startS,
    durationS,
    limitedBy,
    critical,
  }));
}
