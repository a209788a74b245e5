/** One line on a terminal that shows the progress of long work, and is gone when it is done. Never in a pipe or a file. */
import { stringWidth } from '../report/present/display-width.ts';

/** ms: what is done sooner is not worth a line; nobody reads faster than this. */
const PATIENCE = 400;
const PAUSE = 80;

const USUAL_WIDTH = 80;

/** Goes to the start of the line and clears it. */
const CLEAR = '\r\u001b[2K';

export interface Progress {
  /** "checking, 120 of 2000" */
  step(what: string, done?: number, of?: number): void;
  end(): void;
}

const SILENT: Progress = { step: () => undefined, end: () => undefined };

type Terminal = Pick<NodeJS.WriteStream, 'isTTY' | 'columns' | 'write'>;

/** NO_COLOR does not silence it: it has no colour. A terminal that cannot clear a line does. */
export function progressOn(terminal: Terminal, { TERM } = process.env): Progress {
  if (terminal.isTTY !== true || TERM === 'dumb') return SILENT;
  let next = performance.now() + PATIENCE;
  let isShown = false;
  return {
    step(what, done, of) {
      const now = performance.now();
      if (now < next) return;
      next = now + PAUSE;
      isShown = true;
      const text = done === undefined || of === undefined ? `${what} …` : `${what}, ${done} of ${of} …`;
      // A line that wraps is not cleared whole. Some terminals have no known width.
      terminal.write(stringWidth(text) < (terminal.columns || USUAL_WIDTH) ? CLEAR + text : CLEAR);
    },
    end() {
      if (isShown) terminal.write(CLEAR);
      isShown = false;
    },
  };
}
