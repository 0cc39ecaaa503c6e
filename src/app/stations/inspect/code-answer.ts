import { html, nothing, type TemplateResult } from 'lit';
import type { Batch } from '../../../batch/document.ts';
import { fingerprintOf, shortFingerprint } from '../../../batch/fingerprint.ts';

/** What is said to somebody who came by a printed page's code: is the run here, and is the sheet still true? */
export function codeAnswer(
  batch: Batch,
  runId: string | undefined,
  sheet: string | undefined,
): TemplateResult | typeof nothing {
  const isMissing = runId !== undefined && batch.runs.every(({ id }) => id !== runId);
  const missing = isMissing
    ? html`<p class="said" role="status">The code names the run ${runId}, which is not in the log of this batch.</p>`
    : nothing;
  if (sheet === undefined) return missing;
  const now = shortFingerprint(fingerprintOf(batch));
  const isTrue = now.replaceAll('-', '') === sheet;
  return html`${missing}${
    isTrue
      ? html`<p class="small soft" role="status">The printed sheet is up to date: the batch is as it was then (${now}).</p>`
      : html`<p class="said" role="status">The printed sheet is out of date: the batch has changed since it was printed. Now it is ${now}; print the sheet anew before working by it.</p>`
  }`;
}
