import { canonicalJson } from '../base/canonical-json.ts';
import { listed } from '../base/format.ts';
import { findMaterial } from '../materials/library.ts';
import type { Batch, RunRecord } from './document.ts';
import { fingerprintOf, shortFingerprint } from './fingerprint.ts';
import { labelOf } from './plan/film-facts.ts';
import { batchAsRun, coatingOf, plannedLayers } from './run-planned.ts';

/** What of a run's design has been changed since it was logged, in words; undefined where its plan was not kept. */
export function designChanges(batch: Batch, run: RunRecord): readonly string[] | undefined {
  const { planned, side } = run;
  if (planned === undefined) return undefined;
  const then = batchAsRun(batch, run);
  const label = ({ order }: Batch) =>
    labelOf(findMaterial(order.lens.substrate, batch.materials), order.lens.substrate);
  const drawn = (layers: ReturnType<typeof plannedLayers>) => layers.map(({ sensor: _, ...layer }) => layer);
  const isSame = (one: unknown, other: unknown) => canonicalJson(one) === canonicalJson(other);
  return [
    ...(then.order.lens.substrate === batch.order.lens.substrate
      ? []
      : [`the glass (then ${label(then)}; now ${label(batch)})`]),
    ...(isSame(coatingOf(then, side).incident, coatingOf(batch, side).incident)
      ? []
      : ['the medium in front of the coating']),
    ...(isSame(drawn(planned.layers), drawn(plannedLayers(batch, coatingOf(batch, side))))
      ? []
      : ['the layers']),
    ...((then.process.aimPercent ?? 0) === (batch.process.aimPercent ?? 0) ? [] : ['the aim']),
  ];
}

/** How a run stands to the batch of today: `changed` where its design is another one, `unknown` where it was not kept. */
export interface DesignNote {
  readonly kind: 'same' | 'changed' | 'unknown';
  readonly sentence: string;
}

/**
 * Says by what a run is judged. Where the design is the same and the batch's fingerprint is not, something else has changed
 * that a plan is computed from, and that is said too.
 */
export function designNote(batch: Batch, run: RunRecord): DesignNote {
  const { number, planned } = run;
  const changes = designChanges(batch, run);
  if (planned === undefined || changes === undefined)
    return {
      kind: 'unknown',
      sentence: `The plan was not kept when run ${number} was logged: it is held against the glass, the stack and the tooling of now.`,
    };
  if (changes.length > 0)
    return {
      kind: 'changed',
      sentence: `Changed since run ${number} was logged: ${listed(changes)}. The run is held against what was planned then (sheet ${planned.fingerprint}), under the requirements of now.`,
    };
  const now = shortFingerprint(fingerprintOf(batch));
  return {
    kind: 'same',
    sentence:
      now === planned.fingerprint
        ? `Glass, stack, tooling and times stand as they did when run ${number} was logged (sheet ${now}).`
        : `Glass, stack and aim stand as they did when run ${number} was logged; something else of the batch has changed since (sheet ${planned.fingerprint} then, ${now} now). The run's own tooling and times were kept; all else counts as it is now.`,
  };
}
