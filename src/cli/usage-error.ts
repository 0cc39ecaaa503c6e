/** A command line that asks for a task or an option that does not exist (exit code 2). */
export class UsageError extends Error {
  override name = 'UsageError';
}
