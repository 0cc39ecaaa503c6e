import type { Outcome } from '../compute/answer-request.ts';

/** What the command needs of the world around it; tests give it their own. */
export interface Terminal {
  /** The bytes of a file. @throws Error with Node's `code` where it cannot be read. */
  readFile(path: string): Promise<Uint8Array>;
  readStandardInput(): Promise<Uint8Array>;
  /** Writes a text to a file, making its folder where there is none. */
  writeFile(path: string, text: string): Promise<void>;
  /** Standard output; resolves when the text is on its way. */
  print(text: string): Promise<void>;
  /** Standard error. */
  complain(text: string): void;
  /** Columns of standard error where it is a terminal that can redraw a line. */
  readonly barColumns: number | undefined;
  /** Runs a task of the registry, in a thread of its own where there are threads. */
  runTask(
    name: string,
    request: unknown,
    wantsPapers: boolean,
    progress?: (fraction: number, doing: string) => void,
  ): Promise<Outcome>;
}
