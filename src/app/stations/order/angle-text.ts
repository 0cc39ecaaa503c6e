/** Angles as they are typed: "0, 25". */
export function anglesText(anglesDeg: readonly number[]): string {
  return anglesDeg.join(', ');
}

/** Reads a list of angles in degrees, or says in a sentence why it cannot be used. Decimal commas need semicolons between. */
export function readAngles(text: string): readonly number[] | string {
  const parts = text
    .replace(/°/g, ' ')
    .split(text.includes(';') ? ';' : /[,\s]+/)
    .map((part) => part.trim().replace(',', '.'))
    .filter((part) => part !== '');
  if (parts.length === 0) return 'Type at least one angle, such as 0.';
  if (parts.length > 20) return `${parts.length} angles are more than 20.`;
  for (const part of parts) {
    const angle = Number(part);
    if (!Number.isFinite(angle)) return `"${part}" is not an angle in degrees.`;
    if (angle < 0 || angle >= 90) return `${part}° is not from 0° to below 90°.`;
  }
  return parts.map(Number);
}
