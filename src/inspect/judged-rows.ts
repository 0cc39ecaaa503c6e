import type { MeasuredSpectrum, RunRecord } from '../batch/document.ts';
import { describeRequirement, type Requirement } from '../design/requirement.ts';
import { judgeSpectrum } from './judge-spectrum.ts';
import type { Verdict } from './verdict.ts';

/** What a measured run says on one requirement at one of its angles. */
export interface JudgedRow {
  readonly requirement: string;
  readonly incidenceDeg: number;
  readonly limitPercent: number;
  readonly sense: 'below' | 'above';
  readonly verdict: Verdict['kind'];
  /** Name of the spectrum, and where it was measured; absent where none was measured for it. */
  readonly spectrum?: string;
  readonly place?: string;
  readonly valuePercent?: number;
  /** Expanded uncertainty (k = 2) in percent of full scale; absent where it was not stated. */
  readonly expandedUncertaintyPercent?: number;
  readonly worstWavelengthNm?: number;
  /** Why it was not measured. */
  readonly reason?: string;
}

/**
 * Judges every requirement at every angle that it lists by every spectrum of the run that covers it. What no spectrum
 * covers stands as not measured.
 */
export function judgedRows(
  requirements: readonly Requirement[],
  { spectra, uncertaintyPercent = 0 }: RunRecord,
): JudgedRow[] {
  return requirements.flatMap((requirement) =>
    requirement.incidenceDeg.flatMap((incidenceDeg) => {
      const rows = spectra.map((spectrum) =>
        judgedRow(requirement, incidenceDeg, spectrum, uncertaintyPercent),
      );
      const measured = rows.filter(({ verdict }) => verdict !== 'not-measured');
      if (measured.length > 0) return measured;
      const reason = rows.length === 1 ? rows[0]!.reason : undefined;
      return [
        {
          ...about(requirement, incidenceDeg),
          verdict: 'not-measured' as const,
          reason: reason ?? (rows.length === 0 ? 'nothing was measured' : 'no spectrum of the run covers it'),
        },
      ];
    }),
  );
}

function judgedRow(
  requirement: Requirement,
  incidenceDeg: number,
  spectrum: MeasuredSpectrum,
  uncertaintyPercent: number,
): JudgedRow {
  const [verdict] = judgeSpectrum(
    [{ ...requirement, incidenceDeg: [incidenceDeg] }],
    spectrum,
    uncertaintyPercent,
  ) as [Verdict];
  const row = about(requirement, incidenceDeg);
  if (verdict.kind === 'not-measured') return { ...row, verdict: verdict.kind, reason: verdict.reason };
  return {
    ...row,
    verdict: verdict.kind,
    spectrum: spectrum.name,
    place: placeOf(spectrum),
    valuePercent: verdict.value,
    ...(uncertaintyPercent === 0 ? {} : { expandedUncertaintyPercent: verdict.expandedUncertainty }),
    ...(verdict.worstWavelengthNm === undefined ? {} : { worstWavelengthNm: verdict.worstWavelengthNm }),
  };
}

function about(requirement: Requirement, incidenceDeg: number) {
  return {
    requirement: describeRequirement({ ...requirement, incidenceDeg: [incidenceDeg] }),
    incidenceDeg,
    limitPercent: requirement.limit,
    sense: requirement.sense,
  };
}

/** Where a spectrum was measured, its name where no place is given. */
export function placeOf({ place, name }: Pick<MeasuredSpectrum, 'place' | 'name'>): string {
  return place ?? name;
}
