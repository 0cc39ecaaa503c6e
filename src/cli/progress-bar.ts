import type { Terminal } from './terminal.ts';

const CELLS = 24;

/** A bar on one line of standard error, redrawn where that is a terminal, else one line per tenth. */
export function progressBar(terminal: Pick<Terminal, 'complain' | 'barColumns'>) {
  let lastTenth = -1;
  let drawn = false;
  return {
    /** Shows how far the work is (fraction 0..1) and what is being done. */
    update: (fraction: number, doing: string): void => {
      const part = Math.min(1, Math.max(0, fraction));
      const percent = `${Math.floor(part * 100)} %`.padStart(5);
      const columns = terminal.barColumns;
      if (columns === undefined) {
        const tenth = Math.floor(part * 10);
        if (tenth > lastTenth) terminal.complain(`${percent} ${doing}\n`);
        lastTenth = Math.max(lastTenth, tenth);
        return;
      }
      const full = Math.round(part * CELLS);
      const line = `[${'#'.repeat(full)}${'.'.repeat(CELLS - full)}] ${percent} ${doing}`;
      terminal.complain(`\r\u001b[K${line.slice(0, Math.max(10, columns - 1))}`);
      drawn = true;
    },
    /** Takes the bar away again. */
    clear: (): void => {
      if (drawn) terminal.complain('\r\u001b[K');
      drawn = false;
    },
  };
}
