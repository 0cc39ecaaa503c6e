import { fixed, listed } from '../../base/format.ts';
import type { Requirement } from '../../design/requirement.ts';
import { allMaterials, findMaterial } from '../../materials/library.ts';
import { GOAL_WORDS } from './goal-words.ts';
import { LENS_WORDS } from './lens-words.ts';
import { type GoalDraft, LineDraft } from './line-draft.ts';
import { LONGEST_ORDER_LINE, type OrderLine } from './order-line.ts';
import { type OrderWord, word } from './order-word.ts';

/** Words that add nothing to what the rest says. */
const FILLER = word(
  'a\\.?r\\.?|anti-?reflect(?:ion|ive)|coat(?:ing|ed)?|lens(?:es)?|and|with|for|of|on|at|in|from|all|over',
  () => undefined,
);

const WORDS: readonly OrderWord[] = [...LENS_WORDS, ...GOAL_WORDS, FILLER];

/**
 * Reads an order as drawings and orders word it in a line, such as
 * "517642, d 32, R1 84.2 R2 -84.2, 400 pcs, AR R avg <= 0.4 % 430-670 nm 0-25". Lengths are in mm and wavelengths in nm
 * where no unit says otherwise; a range of angles stands for its ends, each of which is required. Nothing is
 * guessed in silence: `pieces` tells how each part was understood, `leftOut` what was not, `faults` what forbids to go on.
 */
export function readOrderLine(text: string): OrderLine {
  const plain = plainSigns(text);
  const line = new LineDraft();
  if (plain.length > LONGEST_ORDER_LINE)
    line.faults.push(`The line has ${plain.length} characters; up to ${LONGEST_ORDER_LINE} are read.`);
  const leftOut = scan(plain.slice(0, LONGEST_ORDER_LINE), line);
  const requirements = requirementsOf(line);
  checkGlass(line);
  return { facts: line.facts, requirements, pieces: line.pieces, leftOut, faults: line.faults };
}

/** Typographic signs as plain ones. */
function plainSigns(text: string): string {
  return text
    .replace(/[−–—]/g, '-')
    .replace(/[µμ]m/g, 'um')
    .replace(/≤/g, '<=')
    .replace(/≥/g, '>=')
    .replace(/[Ø⌀∅]/g, 'ø')
    .replace(/[“”„]/g, '"')
    .replace(/\s/g, ' ')
    .trim();
}

/** Reads from left to right; answers the words that mean nothing, those that stand together as one. */
function scan(text: string, line: LineDraft): string[] {
  const leftOut: string[] = [];
  let place = 0;
  let isUnknown = false;
  while (place < text.length) {
    const between = /[\s,;:|()+]+/y;
    between.lastIndex = place;
    const gap = between.exec(text)?.[0] ?? '';
    if (gap !== '') {
      place += gap.length;
      if (/[^\s]/.test(gap)) isUnknown = false;
      continue;
    }
    const end = takeWord(text, place, line);
    if (end !== undefined) {
      place = end;
      isUnknown = false;
      continue;
    }
    const unknown = /^[^\s,;:|()+]+/.exec(text.slice(place))?.[0] ?? text.charAt(place);
    if (isUnknown) leftOut.push(`${leftOut.pop()} ${unknown}`);
    else leftOut.push(unknown);
    isUnknown = true;
    place += unknown.length;
  }
  return leftOut;
}

function takeWord(text: string, place: number, line: LineDraft): number | undefined {
  for (const { pattern, take } of WORDS) {
    pattern.lastIndex = place;
    const match = pattern.exec(text);
    if (match === null || match[0] === '') continue;
    take(match, line);
    return place + match[0].length;
  }
  return undefined;
}

/** Parts that a requirement lacks are those of the one before, or of the next that says them. */
function requirementsOf(line: LineDraft): Requirement[] {
  const { goals, faults } = line;
  const inherited = <Part>(place: number, part: (goal: GoalDraft) => Part | undefined): Part | undefined =>
    [...goals.slice(0, place + 1).reverse(), ...goals.slice(place)]
      .map(part)
      .find((one) => one !== undefined);
  return goals.flatMap((goal, place) => {
    const { limit } = goal;
    const bandNm = inherited(place, (one) => one.bandNm);
    if (limit === undefined) {
      const where = goal.bandNm === undefined ? 'One requirement' : `The band ${goal.bandNm.join('-')} nm`;
      faults.push(`${where} has no limit, such as R avg <= 0.4 %.`);
      return [];
    }
    if (bandNm === undefined) {
      faults.push(
        `${limit.quantity} ${limit.sense === 'below' ? '<=' : '>='} ${limit.limit} % has no band, such as 430-670 nm.`,
      );
      return [];
    }
    return [
      {
        ...limit,
        bandNm,
        incidenceDeg: inherited(place, (one) => one.incidenceDeg) ?? [0],
        polarization: inherited(place, (one) => one.polarization) ?? 'mean',
        weight: 1,
      },
    ];
  });
}

/** Glasses that are named instead of an unknown code. */
const MOST_NEAR = 3;

function checkGlass({ facts: { substrate }, faults }: LineDraft): void {
  if (substrate === undefined || findMaterial(substrate)?.role === 'substrate') return;
  const near = nearGlasses(substrate);
  faults.push(
    `"${substrate}" is no glass of the library${near.length === 0 ? '' : `; the nearest are ${listed(near)}`}.`,
  );
}

/** The library's glasses whose code is nearest: three digits of nd − 1, three of the Abbe number (MIL-G-174, from memory). */
function nearGlasses(code: string): string[] {
  if (!/^\d{6}$/.test(code)) return [];
  const parts = (id: string) => ({ nd: 1 + Number(id.slice(0, 3)) / 1000, abbe: Number(id.slice(3)) / 10 });
  const wanted = parts(code);
  // 0.01 of index weighs as much as 5 of the Abbe number: what a coater could mistake.
  const distance = (id: string) =>
    Math.hypot((parts(id).nd - wanted.nd) / 0.01, (parts(id).abbe - wanted.abbe) / 5);
  return allMaterials()
    .map(({ id }) => id)
    .filter((id) => /^\d{6}$/.test(id))
    .sort((one, other) => distance(one) - distance(other))
    .slice(0, MOST_NEAR)
    .map((id) => `${id} (nd ${fixed(parts(id).nd, 3)})`);
}
