/**
 * What the square code of a printed page says: which record it belongs to, and from which state of the batch it was
 * printed. It is the end of an address of the app (`#/batch/ID/inspect?run=RUN&sheet=PRINT`), without the machine's
 * name: the record lies in the workstation's own browser, where a scanner types the code into a search field.
 */
export interface RecordCode {
  readonly batchId: string;
  /** Id of the logged run; absent on a page of the whole batch. */
  readonly runId?: string;
  /** Fingerprint as printed, without its hyphens: of the batch as it was when the page was printed. */
  readonly sheet?: string;
}

/** A run's serial number, as people copy it: the batch's id and the run's, with a stroke between; ids hold no stroke. */
export function serialOf({ batchId, runId }: RecordCode): string {
  return runId === undefined ? batchId : `${batchId}/${runId}`;
}

/** The text of the code. */
export function codeText({ batchId, runId, sheet }: RecordCode): string {
  const query = new URLSearchParams();
  if (runId !== undefined) query.set('run', runId);
  if (sheet !== undefined) query.set('sheet', sheet.replaceAll('-', ''));
  const search = query.toString();
  return `#/batch/${encodeURIComponent(batchId)}/inspect${search === '' ? '' : `?${search}`}`;
}

const ID = '[A-Za-z0-9][A-Za-z0-9._-]{0,63}';
const CODE = new RegExp(`#/batch/(${ID})/\\w+(?:\\?(.*))?$`);
const SERIAL = new RegExp(`^(${ID})/(${ID})$`);

/** Reads what a scanner or a person typed: a code, alone or behind an address, or a run's serial number. */
export function readCode(typed: string): RecordCode | undefined {
  const text = typed.trim();
  const [, batchId, search] = CODE.exec(text) ?? [];
  if (batchId !== undefined) {
    const query = new URLSearchParams(search);
    const [runId, sheet] = [query.get('run'), query.get('sheet')];
    return { batchId, ...(runId ? { runId } : {}), ...(sheet ? { sheet } : {}) };
  }
  const [, ofBatch, ofRun] = SERIAL.exec(text) ?? [];
  return ofBatch === undefined || ofRun === undefined ? undefined : { batchId: ofBatch, runId: ofRun };
}
