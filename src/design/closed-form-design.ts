import { InputError } from '../base/errors.ts';
import { type DesignProblem, FINAL_POINTS, searchProblem } from './design-problem.ts';
import { designWarnings } from './design-warnings.ts';
import { type DesignResult, type FoundStack, stackFrom } from './found-stack.ts';
import { missingForms } from './missing-forms.ts';
import type { SearchProblem } from './search/search-problem.ts';
import { materialCount, type Sketch } from './search/tidy.ts';
import { type StartingPlace, type StartingStack, startingStacks } from './starting-stacks.ts';

/** A closed form that keeps to the layers and pockets allowed, and the same as the search has it. */
export interface FittingForm {
  readonly form: StartingStack;
  readonly sketch: Sketch;
}

/** Where the closed forms of a problem hold: at its reference wavelength. */
function startingPlace(search: SearchProblem): StartingPlace {
  const { incidentIndex, substrateIndex, referenceNm } = search;
  return { incidentIndex, substrateIndex, wavelengthNm: referenceNm };
}

/** The closed forms that the materials give, or `all` of those given, but for those of too many layers or materials. */
export function fittingForms(
  { pool }: DesignProblem,
  search: SearchProblem,
  all = startingStacks(pool, startingPlace(search)),
): FittingForm[] {
  const ids = pool.map(({ id }) => id);
  return all
    .map((form) => ({
      form,
      sketch: {
        materials: form.layers.map(({ material }) => ids.indexOf(material)),
        thicknessNm: Float64Array.from(form.layers, ({ thicknessNm }) => thicknessNm),
      },
    }))
    .filter(
      ({ sketch: { materials } }) =>
        materials.length <= search.maxLayers && materialCount(materials) <= search.maxMaterials,
    );
}

/**
 * The closed forms themselves, nothing refined, held against the requirements, best first.
 * @throws InputError as `searchProblem`, or where none fits.
 */
export function closedFormDesign(problem: DesignProblem): DesignResult {
  const search = searchProblem(problem, FINAL_POINTS);
  const place = startingPlace(search);
  const all = startingStacks(problem.pool, place);
  const forms = fittingForms(problem, search, all);
  const stacks = forms
    .map(({ form, sketch }): FoundStack => ({ ...stackFrom(problem, search.grid, sketch), form }))
    .sort((one, other) => one.merit - other.merit);
  const [best] = stacks;
  if (best === undefined)
    throw new InputError(
      'pool',
      `no closed form of at most ${search.maxLayers} layers can be made of these materials`,
    );
  const missing = missingForms(all, problem.pool, place).map(
    ({ name, needs }) => `${name}: not among these, since it takes ${needs}.`,
  );
  return {
    stacks,
    starts: forms.length,
    warnings: [
      ...missing,
      ...designWarnings(problem, best, 'among the closed forms, which nothing has refined'),
    ],
  };
}
