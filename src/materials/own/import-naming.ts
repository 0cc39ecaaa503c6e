import type { MaterialRecord, MaterialRole } from '../record.ts';

/** What the shop calls a material that it imports. */
export interface ImportNaming {
  /** Lower case letters, digits and hyphens. */
  readonly id: string;
  readonly name: string;
  readonly role: MaterialRole;
  /** Where the numbers come from, where the file does not say it. */
  readonly cites?: string;
}

/** What the data were measured on, as far as the role tells. */
export function kindOf(role: MaterialRole): MaterialRecord['kind'] {
  return role === 'substrate' ? 'glass' : 'film';
}
