import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { fingerprintOf, shortFingerprint } from '../../src/batch/fingerprint.ts';
import { computePlan } from '../../src/batch/plan/plan.ts';
import { readBatch } from '../../src/batch/read-batch.ts';
import { planTables } from '../../src/batch/traveller/tables.ts';
import { travellerPage } from '../../src/batch/traveller/traveller-html.ts';

const batch = readBatch(readFileSync('demo/eyepiece-field-lens.json', 'utf8'));
const plan = computePlan(batch);
const origin = { version: '1.2.3', fingerprint: fingerprintOf(batch) };
const page = travellerPage(batch, plan, origin);

describe('the traveller', () => {
  it('carries lot, drawing, every step, every cut, every charge and every caution', () => {
    const expected = [
      batch.order.lot,
      'Drawing: AR both sides',
      ...plan.runs.flatMap(({ steps }) =>
        steps.filter(({ layerIndex }) => layerIndex === undefined).map(({ label }) => label),
      ),
      ...plan.runs[0]!.charge.map(({ label }) => label),
      'X-rays',
      'safety data sheet',
      'Operator, date',
      '1.2.3',
      shortFingerprint(origin.fingerprint),
    ];
    for (const text of expected) expect(page).toContain(text);
  });

  it('draws every place of the rack', () => {
    expect(page.match(/class="(lens|witness)"/g)?.length).toBe(plan.load.places.length);
  });

  it('needs no other file and runs no script', () => {
    expect(page).not.toMatch(/<script|<link|src=|url\(/);
  });

  it('never turns what somebody typed into markup', () => {
    const hostile = structuredClone(batch);
    hostile.order.title = '<img src=x onerror=alert(1)>';
    hostile.order.lot = '"; } </style><script>alert(1)</script>';
    const text = travellerPage(hostile, plan, origin);
    expect(text).not.toContain('<img');
    expect(text).not.toContain('<script');
    expect(text.match(/<\/style>/g)).toHaveLength(1);
  });

  it('shows no figure that is not one', () => {
    expect(page).not.toMatch(/NaN|Infinity|undefined|null/);
  });
});

it('the tables have a heading and as many rows as the plan has entries', () => {
  const rows = Object.fromEntries(
    planTables(batch, plan).map(({ name, csv }) => [name, csv.trim().split('\r\n').length - 1]),
  );
  expect(rows).toEqual({
    stack: 6,
    spectrum: 2 * 2 * 281,
    steps: plan.runs.reduce((sum, { steps }) => sum + steps.length, 0),
    charge: 6,
    cuts: 6,
    loads: plan.lot.rows.length * plan.load.racks,
    runs: plan.lot.runs,
    places: plan.load.places.length,
  });
});
