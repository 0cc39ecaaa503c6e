/** What a test file tells about the mutants that it reaches, one line of JSON each. */
export type MutantEvent =
  /** These mutants run when the file's modules are loaded, before any test. */
  | { kind: 'loaded'; file: string; ids: string[] }
  /** In this process a mutant meets a test that takes so long without it. */
  | { kind: 'start'; id: string; file: string; testId: string; test: string; ms: number; pid: number }
  | { kind: 'found'; id: string; file: string; test: string; late?: boolean }
  /** The thread's state was no longer to be trusted in this test. */
  | { kind: 'spoilt'; id: string; file: string; testId: string }
  /** The file is through with all tests up to so long; so many mutants wait for the others. */
  | { kind: 'ended'; file: string; longestMs: number; left: number };
