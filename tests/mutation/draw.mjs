import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { Instrumenter } from '@stryker-mutator/instrumenter'; // a part of @stryker-mutator/core, pinned with it

const silent = { debug() {}, info() {}, isDebugEnabled: () => false };
const options = { plugins: null, excludedMutations: [], ignorers: [] };

/** All mutants that Stryker makes of these files. */
async function mutantsOf(files) {
  const whole = files.map((name) => ({ name, content: readFileSync(name, 'utf8'), mutate: true }));
  return (await new Instrumenter(silent).instrument(whole, options)).mutants;
}

/** A mutant's name, which also orders the drawing: of the same code and seed always the same. */
function lot({ fileName, location, mutatorName, replacement }, seed) {
  return createHash('sha256')
    .update(JSON.stringify([seed, fileName, location, mutatorName, replacement]))
    .digest('hex');
}

/**
 * Draws mutants of these files by chance, or takes all of them where no number is given.
 * @returns what was drawn with a name for each, and how many there are.
 */
export async function draw(files, seed, count) {
  const all = await mutantsOf(files);
  const drawn = all
    .map((mutant) => ({ ...mutant, lot: lot(mutant, seed) }))
    .sort((one, other) => (one.lot < other.lot ? -1 : 1))
    .slice(0, count);
  return { drawn, outOf: all.length };
}

/** Whether a place, its lines counted from 0, lies within a piece of code, whose lines are counted from 1. */
function isWithin({ start, end }, code) {
  const isBefore = (one, other) =>
    one.line < other.line || (one.line === other.line && one.column <= other.column);
  const lower = ({ line, column }) => ({ line: line - 1, column });
  return isBefore(lower(code.start), start) && isBefore(end, lower(code.end));
}

/**
 * The code with a switch at the place of each of these mutants and nowhere else, so that the rest of it runs at its full speed.
 * @returns the code of each changed file by its name, and the mutants by the id that switches them on.
 */
export async function withSwitches(mutants) {
  const wanted = new Map(mutants.map((mutant) => [lot(mutant, ''), mutant]));
  const inPlaces = [...new Set(mutants.map(({ fileName }) => fileName))].map((name) => ({
    name,
    content: readFileSync(name, 'utf8'),
    mutate: mutants.filter(({ fileName }) => fileName === name).map(({ location }) => location),
  }));
  const places = mutants.map(({ location }) => location);
  const holdsOne = ({ loc }) =>
    loc === undefined || loc === null || places.some((place) => isWithin(place, loc));
  const ignorers = [{ shouldIgnore: ({ node }) => (holdsOne(node) ? undefined : 'nothing drawn in it') }];
  const made = await new Instrumenter(silent).instrument(inPlaces, { ...options, ignorers });
  const byId = made.mutants
    .filter(({ status }) => status !== 'Ignored')
    .map((mutant) => [mutant.id, wanted.get(lot(mutant, ''))])
    .filter(([, mutant]) => mutant !== undefined);
  return {
    code: Object.fromEntries(made.files.map(({ name, content }) => [name, content])),
    mutants: Object.fromEntries(byId),
  };
}
