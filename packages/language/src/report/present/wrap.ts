import { stringWidth } from './display-width.ts';

/** A number keeps its ± and its unit on one line. */
const BOUND = '\u00a0';

/** Lines of at most so many columns, words kept whole. */
export function wrap(text: string, width: number): string[] {
  const lines: string[] = [];
  let line = '';
  let used = 0;
  const bound = text.replaceAll(' ± ', `${BOUND}±${BOUND}`).replace(/(\d) (?=\S)/g, `$1${BOUND}`);
  for (const piece of bound.split(' ')) {
    const word = piece.replaceAll(BOUND, ' ');
    const columns = stringWidth(word);
    if (line && used + 1 + columns > width) {
      lines.push(line);
      line = word;
      used = columns;
    } else {
      used = line ? used + 1 + columns : columns;
      line = line ? `${line} ${word}` : word;
    }
  }
  return [...lines, line];
}
