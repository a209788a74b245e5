/** The marks that an unfinished merge leaves in a text. */

export interface Conflict {
  /** Of the line `<<<<<<< …`. */
  readonly offset: number;
  readonly line: number;
}

const OURS = /^<{7}(?: |$)/;
const BASE = /^\|{7}(?: |$)/;
const SPLIT = /^={7}$/;
const THEIRS = /^>{7}(?: |$)/;

/** The text with nothing but blanks where marks and the lower side of each conflict are, as long as before; and the conflicts. */
export function withoutConflicts(text: string): { readonly text: string; readonly conflicts: readonly Conflict[] } {
  if (!text.includes('<<<<<<<') || !text.includes('>>>>>>>')) return { text, conflicts: [] };
  const conflicts: Conflict[] = [];
  const blank = new Set<number>();
  const lines = text.split('\n');
  let open: Conflict | undefined;
  let marks: number[] = [];
  let isLower = false;
  let offset = 0;
  for (const [line, whole] of lines.entries()) {
    const content = whole.replace(/\r$/, '');
    if (OURS.test(content)) {
      open = { offset, line: line + 1 };
      marks = [line];
      isLower = false;
    } else if (open && (BASE.test(content) || SPLIT.test(content))) {
      isLower = true;
      marks.push(line);
    } else if (open && isLower && THEIRS.test(content)) {
      conflicts.push(open);
      for (const mark of [...marks, line]) blank.add(mark);
      open = undefined;
    } else if (open && isLower) marks.push(line);
    offset += whole.length + 1;
  }
  const kept = lines.map((whole, line) => (blank.has(line) ? whole.replace(/[^\r]/g, ' ') : whole));
  return { text: kept.join('\n'), conflicts };
}
