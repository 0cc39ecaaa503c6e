import { TASKS } from '../compute/tasks.ts';
import { nodeTerminal } from './node-terminal.ts';
import { EXIT, runCommand } from './run-command.ts';

process.on('SIGINT', () => {
  if (nodeTerminal.barColumns !== undefined) nodeTerminal.complain('\r\u001b[K');
  process.exit(EXIT.interrupted);
});
process.stdout.on('error', () => process.exit(EXIT.answered)); // the reader of a pipe has gone

process.exitCode = await runCommand(process.argv.slice(2), nodeTerminal, TASKS);
