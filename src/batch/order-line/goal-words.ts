import type { LineDraft } from './line-draft.ts';
import { IS, NUMBER, type OrderWord, typedLength, typedNumber, word } from './order-word.ts';

const STATISTIC = 'avg|ave|average|mean|max(?:imum)?|min(?:imum)?|peak|abs(?:olute)?';
const QUANTITY =
  'R|T|A|reflectance|reflection|reflectivity|transmittance|transmission|absorptance|absorption';
const SIGN = '<=|>=|=<|=>|<|>|below|under|less than|at most|no more than|above|over|more than|at least';
const WAVE = String.raw`\s*(nm|um)`;
const DEGREES = String.raw`\s*(?:°|deg(?:rees?)?)`;
const ANGLE = String.raw`\d{1,2}(?:\.\d+)?`;

/** "R avg <= 0.4 %". Without a word for it, a limit holds everywhere in its band. */
function takeLimit(match: RegExpExecArray, line: LineDraft): void {
  const [, before, letter = '', within, sign = '', number] = match;
  const sense = /^(<|=<|below|under|less|at most|no more)/i.test(sign) ? 'below' : 'above';
  const limit = typedNumber(number);
  line.goalWithout('limit').limit = {
    quantity: letter.charAt(0).toUpperCase() as 'R' | 'T' | 'A',
    statistic: statisticOf((before ?? within ?? '').toLowerCase(), sense),
    sense,
    limit,
  };
}

function statisticOf(named: string, sense: 'below' | 'above'): 'mean' | 'max' | 'min' {
  if (/^(max|peak)/.test(named)) return 'max';
  if (/^min/.test(named)) return 'min';
  if (/^(avg|ave|mean)/.test(named)) return 'mean';
  return sense === 'below' ? 'max' : 'min';
}

function noteBand(line: LineDraft, one: number, other: number): void {
  line.goalWithout('bandNm').bandNm = [Math.min(one, other), Math.max(one, other)];
}

const inNm = (number: string | undefined, unit: string | undefined) => typedLength(number, unit, 'nm', 'nm');

function takeAngles([text]: RegExpExecArray, line: LineDraft): void {
  const angles = [...text.matchAll(/\d+(?:\.\d+)?/g)].map(([angle]) => Number(angle));
  line.goalWithout('incidenceDeg').incidenceDeg = [...new Set(angles)];
}

/** What an order line says of the coating, the more particular first. */
export const GOAL_WORDS: readonly OrderWord[] = [
  {
    pattern: new RegExp(
      String.raw`(?:(${STATISTIC})\.?\s+)?(${QUANTITY})[\s_(]*(${STATISTIC})?[.)]?\s*(${SIGN})\s*${NUMBER}\s*(?:%|percent)?`,
      'iy',
    ),
    take: takeLimit,
  },
  word(
    String.raw`(?:(?:from|over|in|for|at|@)\s*)?${NUMBER}(?:${WAVE})?\s*(?:-|to)\s*${NUMBER}${WAVE}`,
    ([, from, fromUnit, to, toUnit], line) =>
      noteBand(line, inNm(from, fromUnit ?? toUnit), inNm(to, toUnit)),
  ),
  word(String.raw`(\d{3,5})\s*(?:-|to)\s*(\d{3,5})`, ([, from, to], line) =>
    noteBand(line, inNm(from, 'nm'), inNm(to, 'nm')),
  ),
  word(String.raw`(?:(?:at|@|for)\s*)?${NUMBER}${WAVE}`, ([, at, unit], line) =>
    noteBand(line, inNm(at, unit), inNm(at, unit)),
  ),
  {
    pattern: new RegExp(
      String.raw`(?:(?:at|@|aoi)${IS})?${ANGLE}(?:${DEGREES})?(?:\s*(?:-|to|/|and)\s*${ANGLE}(?:${DEGREES})?)+(?![\d.,]\d|%|[a-z])`,
      'iy',
    ),
    take: takeAngles,
  },
  {
    pattern: new RegExp(
      String.raw`(?:(?:at|@|aoi)${IS})?${ANGLE}${DEGREES}(?![a-z])|aoi${IS}${ANGLE}(?![.,]?\d|%|[a-z])`,
      'iy',
    ),
    take: takeAngles,
  },
  word('normal incidence', (_, line) => {
    line.goalWithout('incidenceDeg').incidenceDeg = [0];
  }),
  word('([sp])[- ]pol(?:ari[sz]ed)?', ([, letter = ''], line) => {
    line.goalWithout('polarization').polarization = letter.toLowerCase() as 's' | 'p';
  }),
  word('unpol(?:ari[sz]ed)?', (_, line) => {
    line.goalWithout('polarization').polarization = 'mean';
  }),
];
