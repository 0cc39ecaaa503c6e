import type { LineDraft } from './line-draft.ts';
import type { OrderFacts } from './order-line.ts';
import { IS, NUMBER, type OrderWord, SIGNED, typedLength, typedNumber, word } from './order-word.ts';

const MINUS = '\u2212';
const LENGTH = String.raw`\s*(mm|cm|in(?:ch)?(?![a-z])|")?`;
const GROUPED = String.raw`(\d{1,3}(?:[ .,'’]\d{3})+|\d+)`;
const SHAPE = 'cx|cc|convex|concave';
const UNCODED_GLASSES = 'fused[ -]silica|sapphire|germanium|silicon|soda-lime';

/** A length that is named by one of some words. */
function lengthWord(
  names: string,
  field: 'diameterMm' | 'clearApertureMm' | 'centreThicknessMm',
  what: string,
): OrderWord {
  return word(`(?:${names})${IS}${NUMBER}${LENGTH}`, ([text, number, unit], line) => {
    const mm = typedLength(number, unit, 'mm', 'mm');
    line.note(field, mm, { text, what, value: `${mm} mm` });
  });
}

/**
 * A radius, signed as in the batch, or by CX and CC as drawings have it (ISO 10110-1, from memory: convex and concave): a
 * convex front is positive, a convex back negative.
 */
function takeRadius(match: RegExpExecArray, line: LineDraft): void {
  const [text, face, before, number, unit, behind, plane] = match;
  const isFront = face === '1';
  const field: keyof OrderFacts = isFront ? 'frontRadiusMm' : 'backRadiusMm';
  const what = isFront ? 'Front radius' : 'Back radius';
  if (plane !== undefined) {
    line.note(field, 0, { text, what, value: 'plane' });
    return;
  }
  const typed = typedLength(number, unit, 'mm', 'mm');
  const shape = (before ?? behind)?.toLowerCase();
  const isConvex = shape === 'cx' || shape === 'convex';
  const mm = shape === undefined ? typed : Math.abs(typed) * (isConvex === isFront ? 1 : -1);
  line.note(field, mm, { text, what, value: `${mm} mm`.replace('-', MINUS) });
}

function takeQuantity([text, typed = '']: RegExpExecArray, line: LineDraft): void {
  const quantity = Number(typed.replace(/\D/g, ''));
  line.note('quantity', quantity, { text, what: 'Good lenses', value: String(quantity) });
}

function takeGlass([text, name = '']: RegExpExecArray, line: LineDraft): void {
  const substrate = name.toLowerCase().replaceAll(' ', '-');
  line.note('substrate', substrate, { text, what: 'Glass', value: substrate });
}

/** What an order line says of the lot and its lens, the more particular first. */
export const LENS_WORDS: readonly OrderWord[] = [
  {
    pattern: /"([^"]{1,120})"/y,
    take: ([text, title = ''], line) => line.note('title', title, { text, what: 'Title', value: title }),
  },
  word(String.raw`lot${IS}(?:no\.?\s*)?([\w./-]{1,60})`, ([text, lot = ''], line) =>
    line.note('lot', lot, { text, what: 'Lot', value: lot }),
  ),
  word(`(?:qty|quantity)${IS}${GROUPED}`, takeQuantity),
  word(String.raw`${GROUPED}\s*(?:pcs?\.?|pieces?|off|lens(?:es)?|ea(?:ch)?|parts)`, takeQuantity),
  word(String.raw`(?:reserve|rejects?)${IS}${NUMBER}\s*%?`, ([text, number], line) => {
    const percent = typedNumber(number);
    line.note('rejectReservePercent', percent, { text, what: 'Reserve for rejects', value: `${percent} %` });
  }),
  word(
    String.raw`r\s?([12])${IS}(?:(${SHAPE})\s*)?(?:${SIGNED}${LENGTH}(?:\s*(${SHAPE}))?|(inf(?:inity)?|plan[oe]?|pl|flat|∞))`,
    takeRadius,
  ),
  lengthWord('c\\.?a|clear aperture', 'clearApertureMm', 'Clear aperture'),
  lengthWord('c\\.?t|cent(?:re|er) thickness|thickness', 'centreThicknessMm', 'Centre thickness'),
  lengthWord('d|dia(?:m(?:eter)?)?|ø', 'diameterMm', 'Diameter'),
  word('both (?:sides|faces|surfaces)|two sides|double[- ]sided', ([text], line) =>
    line.note('back', 'same', { text, what: 'The back', value: 'coated as the front' }),
  ),
  word('(?:one|single|front) (?:side|face|surface)(?: only)?|front only|single[- ]sided', ([text], line) =>
    line.note('back', 'uncoated', { text, what: 'The back', value: 'not coated' }),
  ),
  word(String.raw`(?:(?:glass|substrate|material)${IS})?(\d{6}|${UNCODED_GLASSES})`, takeGlass),
  word(String.raw`(?:glass|substrate|material)${IS}([a-z][\w-]*)`, takeGlass),
];
