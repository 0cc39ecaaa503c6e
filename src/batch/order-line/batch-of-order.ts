import { fixed } from '../../base/format.ts';
import { describeRequirement, type Requirement } from '../../design/requirement.ts';
import type { Batch, Lens } from '../document.ts';
import { edgeThicknessMm } from '../lens-thickness.ts';
import { emptyBatch } from '../new-batch.ts';
import { batchFrom, writeBatch } from '../read-batch.ts';
import type { OrderFacts, OrderLine } from './order-line.ts';

/** A batch for an order line, still without layers, with what had to be assumed because the line does not say it. */
export interface OrderedBatch {
  readonly batch: Batch;
  readonly assumptions: readonly string[];
}

/** Glass left at the edge of a lens whose centre thickness nobody gave (common practice, no source). */
const EDGE_MM = 2;
/** Ring around the clear aperture where it is not given (common practice, no source). */
const RING_MM = 1;

/**
 * Makes the batch of an order line: the house's chamber and process, the line's lens and requirements. The line itself
 * stays in the batch as the drawing's words.
 * @throws InputError with one sentence where a figure is out of range, or the line has faults of its own
 * (`line.faults`), which the caller shows first.
 */
export function batchOfOrder(id: string, line: OrderLine, text: string): OrderedBatch {
  const empty = emptyBatch(id);
  const assumptions: string[] = [];
  const assume = assumer(assumptions);
  const { facts, requirements } = line;
  const lens = lensOf(facts, empty.order.lens, assumptions);
  const { quantity } = empty.order;
  const { front } = empty.surfaces;
  const asked = requirements.length > 0 ? requirements : undefined;
  const words = text.trim().replace(/\s+/g, ' ');
  const draft: Batch = {
    ...empty,
    order: {
      ...empty.order,
      title: facts.title ?? `Lens ${lens.substrate}, ${lens.diameterMm} mm`,
      lot: facts.lot ?? '',
      quantity: assume(facts.quantity, quantity, `${quantity} good lenses`),
      rejectReservePercent: facts.rejectReservePercent ?? empty.order.rejectReservePercent,
      ...(words.length <= 200 ? { drawing: words } : { note: words }),
      lens,
    },
    surfaces: {
      front: {
        ...front,
        requirements: assume(
          asked,
          front.requirements,
          front.requirements.map(describeRequirement).join('; '),
        ) as Requirement[],
      },
      back: assume(facts.back, 'same', 'both faces coated alike'),
    },
  };
  // Through the file's own check, so that nothing is made that could not be read back.
  const checked = batchFrom(JSON.parse(writeBatch(draft)));
  return { batch: checked, assumptions };
}

/** Takes what is given, else the usual value, which is then noted as assumed. */
function assumer(assumptions: string[]) {
  return <Value>(given: Value | undefined, usual: Value, words: string): Value => {
    if (given === undefined) assumptions.push(words);
    return given ?? usual;
  };
}

function lensOf(facts: Partial<OrderFacts>, usual: Lens, assumptions: string[]): Lens {
  const assume = assumer(assumptions);
  const substrate = assume(facts.substrate, usual.substrate, `glass ${usual.substrate}`);
  const diameterMm = assume(facts.diameterMm, usual.diameterMm, `diameter ${usual.diameterMm} mm`);
  const ring = Math.max(0.5, diameterMm - 2 * RING_MM);
  const clearApertureMm = assume(facts.clearApertureMm, ring, `clear aperture ${fixed(ring, 1)} mm`);
  const { frontRadiusMm: front, backRadiusMm: back } = facts;
  if (front === undefined && back === undefined) assumptions.push('plane faces');
  const lens = {
    substrate,
    diameterMm,
    clearApertureMm,
    ...(front ? { frontRadiusMm: front } : {}),
    ...(back ? { backRadiusMm: back } : {}),
  };
  const lost = -edgeThicknessMm({ ...lens, centreThicknessMm: 0 });
  const thick = Math.max(EDGE_MM, Math.ceil(2 * (EDGE_MM + lost)) / 2);
  const centreThicknessMm = assume(facts.centreThicknessMm, thick, `centre thickness ${fixed(thick, 1)} mm`);
  return { ...lens, centreThicknessMm };
}
