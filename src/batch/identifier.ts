import * as v from 'valibot';
import { text } from '../base/schema.ts';

/** A name that other parts of a document refer to. */
export const identifier = (note?: string) =>
  v.pipe(
    text(64, note),
    v.check(
      (value: string) => /^[A-Za-z0-9][A-Za-z0-9._-]*$/.test(value),
      (issue) => `${JSON.stringify(issue.input)} is not a name of letters, digits, ".", "_" and "-"`,
    ),
  );
