import * as v from 'valibot';
import { InputError } from '../../base/errors.ts';
import { list, quantity } from '../../base/schema.ts';
import { evaluateAlongLens, evaluateInCone, evaluateOverAngle } from '../../design/off-axis.ts';
import { requirement } from '../../design/requirement.ts';
import { bandGrid } from '../../design/wavelength-grid.ts';
import { resolveStack, stackFields } from '../shapes.ts';
import { surfaceOfRequest } from '../surface-request.ts';
import { defineTask } from '../task.ts';

const lensShape = v.strictObject({
  radiusOfCurvatureMm: quantity('mm', { above: 0, max: 1e6 }, 'of the coated face, either sign of curvature'),
  points: list(quantity('mm', { min: 0 }), { min: 1, max: 200 }, 'distances from the lens axis'),
  relativeThickness: v.exactOptional(
    list(
      quantity('', { min: 0, max: 10 }),
      { min: 1, max: 200 },
      'film over that at the vertex; left out: cosine of the slope',
    ),
  ),
});

/** How a stack behaves off the axis: over angle, over a lens's own slope, in converging light. */
export default defineTask({
  name: 'offaxis',
  summary: 'How a stack meets its requirements over angle, over the slope of a lens and in converging light.',
  request: v.strictObject({
    ...stackFields,
    requirements: list(requirement, { min: 1, max: 50 }),
    incidenceDeg: v.exactOptional(list(quantity('°', { min: 0, below: 90 }), { min: 1, max: 200 })),
    lens: v.exactOptional(lensShape),
    coneHalfAngleDeg: v.exactOptional(quantity('°', { min: 0, below: 90 }, 'half angle of a cone of rays')),
  }),
  example: {
    layers: [{ material: 'mgf2', thicknessNm: 99.6 }],
    substrate: '517642',
    requirements: [{ quantity: 'R', statistic: 'mean', limit: 1.8, bandNm: [450, 650] }],
    incidenceDeg: [0, 15, 30, 45],
    lens: { radiusOfCurvatureMm: 25, points: [0, 5, 10, 15] },
    coneHalfAngleDeg: 15,
  },
  run({ requirements, incidenceDeg, lens, coneHalfAngleDeg, ...stack }) {
    if (incidenceDeg === undefined && lens === undefined && coneHalfAngleDeg === undefined)
      throw new InputError('', 'the request asks nothing: give "incidenceDeg", "lens" or "coneHalfAngleDeg"');
    const warnings = new Set(
      requirements.flatMap(({ bandNm }) => resolveStack(stack, bandGrid(bandNm, 61)).warnings),
    );
    const surface = surfaceOfRequest(stack, Math.min(...requirements.map(({ bandNm }) => bandNm[0])));
    return {
      ...(incidenceDeg && { overAngle: evaluateOverAngle(requirements, surface, incidenceDeg) }),
      ...(lens && {
        alongLens: evaluateAlongLens(requirements, surface, {
          radiusOfCurvatureMm: lens.radiusOfCurvatureMm,
          pointsMm: lens.points,
          ...(lens.relativeThickness && { relativeThickness: lens.relativeThickness }),
        }),
      }),
      ...(coneHalfAngleDeg !== undefined && {
        inCone: evaluateInCone(requirements, surface, coneHalfAngleDeg),
      }),
      warnings: [...warnings],
    };
  },
});
