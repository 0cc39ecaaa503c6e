/** What a column of a measured table is. */
export interface HeadingMeaning {
  readonly role: 'x' | 'value' | 'unknown';
  readonly xUnit?: XUnit | undefined;
  readonly quantity?: 'R' | 'T' | 'A';
  readonly scale?: ValueScale;
}

/** Units of the spectral axis. */
export const X_UNITS = ['nm', 'um', 'cm-1', 'angstrom', 'eV'] as const;
export type XUnit = (typeof X_UNITS)[number];

/** How the values are written: parts of one, percent, or minus the decimal logarithm. */
export const VALUE_SCALES = ['fraction', 'percent', 'absorbance'] as const;
export type ValueScale = (typeof VALUE_SCALES)[number];

const X_UNIT_PATTERNS: readonly (readonly [RegExp, XUnit])[] = [
  [/\bcm\s*(?:-1|⁻¹|\^-1|\^\(-1\)|\*\*-1)|\b1\/cm\b|wave\s*number|wellenzahl|nombre d.onde/i, 'cm-1'],
  [/\bnm\b|nano-?met(?:er|re)/i, 'nm'],
  [/[µμ]m\b|\bum\b|\bmicrons?\b|micro-?met(?:er|re)/i, 'um'],
  [/Å|\bangstroms?\b/i, 'angstrom'],
  [/\beV\b/, 'eV'],
];
const X_NAME = /wave\s*length|wellenl(?:ä|ae)nge|longueur d.onde|lambda|λ|\bwl\b|^x$/i;

/** Reads what a heading such as "Wavelength [nm]", "%R" or "Transmission / %" says. */
export function readHeading(heading: string): HeadingMeaning {
  const text = heading.trim().replaceAll('_', ' ');
  const xUnit = X_UNIT_PATTERNS.find(([pattern]) => pattern.test(text))?.[1];
  const value = valueMeaning(text);
  if (value !== undefined && !X_NAME.test(text)) return value;
  if (xUnit !== undefined || X_NAME.test(text)) return { role: 'x', xUnit };
  return { role: 'unknown' };
}

function valueMeaning(text: string): HeadingMeaning | undefined {
  const quantity = quantityOf(text);
  const percent = /%|per\s?cent|prozent/i.test(text);
  if (quantity === 'absorbance') return { role: 'value', quantity: 'T', scale: 'absorbance' };
  if (quantity !== undefined)
    return { role: 'value', quantity, ...(percent ? { scale: 'percent' as const } : {}) };
  return percent ? { role: 'value', scale: 'percent' } : undefined;
}

function quantityOf(text: string): 'R' | 'T' | 'A' | 'absorbance' | undefined {
  if (/absorban[cz]|extinktion|optical density|\bO\.?D\b|\bAbs\b/i.test(text)) return 'absorbance';
  if (/reflect|refl\b|r[ée]flex|remission/i.test(text)) return 'R';
  if (/transm|trans\b|durchlass/i.test(text)) return 'T';
  if (/absorpt/i.test(text)) return 'A';
  const letter = /(?:^|[%\s([])([RTA])(?:$|[\s%\])(,;:/=])|^([RT])[ps0-9]?\b/.exec(text);
  return (letter?.[1] ?? letter?.[2]) as 'R' | 'T' | 'A' | undefined;
}
