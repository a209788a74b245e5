/** A table that fills in while candidates are judged: on a terminal, in place, and gone when the whole one is printed. */
import type { Interim } from '../report/decide/choice.ts';
import { columns, stringWidth } from '../report/present/display-width.ts';
import { terminalSafe } from '../syntax/terminal-safe.ts';
import { formatValue } from '../units/print.ts';

/** ms: what is done sooner is not worth a table; nobody reads faster than the pause. */
const PATIENCE = 600;
const PAUSE = 400;

type Terminal = Pick<NodeJS.WriteStream, 'isTTY' | 'columns' | 'rows' | 'write'>;

export interface TableSoFar {
  show(sofar: Interim): void;
  end(): void;
}

/** Undefined where a terminal cannot go back. */
export function tableSoFarOn(terminal: Terminal, { TERM } = process.env): TableSoFar | undefined {
  if (terminal.isTTY !== true || TERM === 'dumb') return undefined;
  let next = performance.now() + PATIENCE;
  let shown = 0;
  const cleared = () => (shown > 0 ? `\u001b[${shown}F\u001b[0J` : '');
  return {
    show(sofar) {
      const now = performance.now();
      if (now < next) return;
      next = now + PAUSE;
      const [width, height] = [terminal.columns || 80, terminal.rows || 24];
      // A line that wraps is not cleared whole.
      const lines = tableLinesOf(sofar)
        .slice(0, Math.max(1, height - 2))
        .map((line) => cut(line, width - 1));
      terminal.write(`${cleared()}${lines.join('\n')}\n`);
      shown = lines.length;
    },
    end() {
      terminal.write(cleared());
      shown = 0;
    },
  };
}

export function tableLinesOf({ done, of, preferences, rows }: Interim): string[] {
  const table = rows().map(({ label, values }) => [
    terminalSafe(label),
    ...values.map((value, i) => formatValue(value, preferences[i]?.unit ?? '')),
  ]);
  const head = ['best so far, without ±', ...preferences.map(({ label }) => label)];
  return [
    ...columns([head, ...table])
      .trimEnd()
      .split('\n'),
    `judging candidates, ${done} of ${of} …`,
  ];
}

function cut(line: string, width: number): string {
  if (stringWidth(line) <= width) return line;
  let kept = line;
  while (stringWidth(kept) >= width) kept = kept.slice(0, -1);
  return `${kept}…`;
}
