import type { MeasuredSpectrum, SpectrumReading } from '../../../batch/document.ts';
import { batchAsRun } from '../../../batch/run-planned.ts';
import type { Bench } from '../../bench.ts';
import { sentenceOf } from '../../task-run.ts';
import { plain } from '../order/requirement-edits.ts';
import { rereadSpectrum } from './reread-spectrum.ts';

/** A change of how a spectrum is read; undefined takes a treatment away. */
export type ReadingChange = { readonly [Key in keyof SpectrumReading]?: SpectrumReading[Key] | undefined };

/** Which spectrum of the run log. */
export interface SpectrumPlace {
  readonly run: number;
  readonly spectrum: number;
}

/**
 * Reads a spectrum anew from its original as one edit. Answers '' where it was done, else the sentence why not.
 */
export function rereadEdit(
  bench: Bench,
  spectrum: MeasuredSpectrum,
  place: SpectrumPlace,
  what: string,
  change: ReadingChange,
): string {
  const reading = plain({ ...spectrum.reading, ...change }) as SpectrumReading;
  try {
    const { batch } = bench.state;
    const asRun = batchAsRun(batch, batch.runs[place.run]!);
    const { wavelengthNm, values, quantity } = rereadSpectrum(asRun, spectrum, reading);
    bench.edit({
      name: `${spectrum.name} read anew, ${what}`,
      recipe: (draft) => {
        const target = draft.runs[place.run]?.spectra[place.spectrum];
        if (target === undefined) return;
        Object.assign(target, { wavelengthNm: [...wavelengthNm], values: [...values], quantity, reading });
      },
    });
    return '';
  } catch (error) {
    return `${sentenceOf(error)} Nothing was changed.`;
  }
}
