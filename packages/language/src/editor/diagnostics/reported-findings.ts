/** What a client shows of each file at present, and where that is after an edit. */

import { TextDocument } from 'vscode-languageserver-textdocument';
import type { Diagnostic, Position, Range } from 'vscode-languageserver-types';
import type { EditedSpan } from './writing-place.ts';

/** A finding that was reported already, by its words without its figures. */
interface Reported {
  readonly stated: string;
  diagnostic: Diagnostic;
}

export class ReportedFindings {
  readonly #reported = new Map<string, Reported[]>();

  of(key: string): readonly Reported[] {
    return this.#reported.get(key) ?? [];
  }

  set(key: string, shown: readonly Diagnostic[]): Diagnostic[] {
    this.#reported.set(
      key,
      shown.map((diagnostic) => ({ stated: withoutFigures(diagnostic), diagnostic })),
    );
    return [...shown];
  }

  delete(key: string): void {
    this.#reported.delete(key);
  }

  /** What was shown is where its text is after a change; with its text it goes. */
  move(key: string, before: string, after: string, change: EditedSpan): void {
    const known = this.#reported.get(key);
    if (known === undefined || known.length === 0) return;
    const [old, now] = [TextDocument.create('', '', 0, before), TextDocument.create('', '', 0, after)];
    const moved = (position: Position, isEnd: boolean): Position => {
      const offset = old.offsetAt(position);
      if (isEnd ? offset <= change.start : offset < change.start) return now.positionAt(offset);
      if (offset >= change.oldEnd) return now.positionAt(offset + change.newEnd - change.oldEnd);
      return now.positionAt(isEnd ? change.start : change.newEnd);
    };
    this.#reported.set(
      key,
      known.flatMap((one) => {
        const { start, end } = one.diagnostic.range;
        const range = { start: moved(start, false), end: moved(end, true) };
        const isGone = isEmpty(range) && !isEmpty({ start, end });
        return isGone ? [] : { ...one, diagnostic: { ...one.diagnostic, range } };
      }),
    );
  }
}

/** Its words without its figures: these change while a line does. */
export const withoutFigures = ({ code, message }: Diagnostic): string =>
  `${code} ${String(message).replace(/\d[\d.,]*/g, '#')}`;

const isEmpty = ({ start, end }: Range): boolean =>
  start.line > end.line || (start.line === end.line && start.character >= end.character);
