import { describe, expect, it } from 'vitest';
import { edgeThicknessMm } from '../../../src/batch/lens-thickness.ts';
import { withFirstStack } from '../../../src/batch/new-batch.ts';
import { batchOfOrder } from '../../../src/batch/order-line/batch-of-order.ts';
import { ORDER_TEMPLATES } from '../../../src/batch/order-line/order-templates.ts';
import { readOrderLine } from '../../../src/batch/order-line/read-order-line.ts';
import { computePlan } from '../../../src/batch/plan/plan.ts';
import { readBatch, writeBatch } from '../../../src/batch/read-batch.ts';

const ordered = (text: string) => batchOfOrder('lot', readOrderLine(text), text);

describe('the batch of an order line', () => {
  it('holds what the line says and keeps its words; what it does not say is told as assumed', () => {
    const text = '517642, d 32, R1 84.2 R2 -84.2, 400 pcs, AR R avg <= 0.4 % 430-670 nm 0-25';
    const { batch, assumptions } = ordered(text);
    expect(batch.order).toMatchObject({ drawing: text, quantity: 400 });
    expect(batch.order.lens).toMatchObject({ diameterMm: 32, frontRadiusMm: 84.2, backRadiusMm: -84.2 });
    expect(assumptions).toEqual([
      'clear aperture 30.0 mm',
      'centre thickness 5.5 mm',
      'both faces coated alike',
    ]);
    expect(readBatch(writeBatch(batch))).toEqual(batch);
  });

  it('gives a lens of unknown thickness a sound edge, whatever its faces', () => {
    for (const radii of [
      'R1 20 R2 -20',
      'R1 -20 R2 20',
      'R1 20 R2 20',
      'R1 plane R2 plane',
      'R1 400 R2 -16',
    ]) {
      const edge = edgeThicknessMm(ordered(`517642 d 30 ${radii}`).batch.order.lens);
      expect(edge).toBeGreaterThanOrEqual(2);
    }
  });

  it('is refused with one sentence where a figure is out of range', () => {
    expect(() => ordered('517642 d 0.2 400 pcs')).toThrow(/order\.lens\.diameterMm: 0\.2 mm is below 1 mm/);
    expect(() => ordered('517642 d 32 R1 10')).toThrow(/10 mm is too strong for a diameter of 32 mm/);
    expect(() => ordered('517642, R avg < 400 % 430-670 nm')).toThrow(/limit: 400 % is above 100 %/);
  });
});

describe('the order templates', () => {
  it.each(ORDER_TEMPLATES)(
    '"$name" is read without a rest and planned, and its first stack meets it',
    ({ line }) => {
      const read = readOrderLine(line);
      expect([read.leftOut, read.faults]).toEqual([[], []]);
      const { batch, assumptions } = ordered(line);
      expect(assumptions.filter((words) => !words.startsWith('clear aperture'))).toEqual([]);
      const plan = computePlan(withFirstStack(batch));
      expect(plan.surfaces[0]?.requirements.map(({ met, valuePercent }) => [met, valuePercent])).toEqual(
        plan.surfaces[0]?.requirements.map(({ valuePercent }) => [true, valuePercent]),
      );
      expect(plan.lot.runs).toBeGreaterThan(0);
    },
  );
});
