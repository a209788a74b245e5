import { window } from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import { SHOW_STEPS, TRY_LINES } from '../../language/src/editor/requests/protocol.ts';
import type { AnswerPages } from './answer-pages.ts';
import { subjectMeant } from './sheet/open-sheet.ts';
import { asSubject, fieldsOf, type SheetSubject } from './sheet/view-messages.ts';

/** Of what comes after the colon: that is what one changes. */
function numberIn(line: string): [number, number] {
  const [text = '', before = ''] = /^([^:]*:\s*)?[\d.]+/.exec(line) ?? [];
  return [before.length, text.length];
}

/** What a step of each figure of a build does. */
export const steps = (client: BaseLanguageClient): AnswerPages<SheetSubject> => ({
  scheme: 'fettle-steps',
  command: SHOW_STEPS,
  ask: 'fettle.sensitivity',
  meant: (asked) => subjectMeant(asked, client),
  read: asSubject,
  title: ({ build }) => `${build}, what a step does`,
  otherwise: 'Nothing to step',
});

interface Tried extends SheetSubject {
  readonly lines: readonly string[];
}

/** A build with other lines, before anybody edits it. */
export const trials = (client: BaseLanguageClient): AnswerPages<Tried> => ({
  scheme: 'fettle-try',
  command: TRY_LINES,
  ask: 'fettle.try',
  meant: async (asked) => {
    const subject = await subjectMeant(asked, client);
    if (subject === undefined) return undefined;
    const { line } = fieldsOf(asked);
    const value = typeof line === 'string' ? line : undefined;
    const given = await window.showInputBox({
      title: `${subject.build}: what if?`,
      prompt: 'Lines as in a build, several with a semicolon between them; nothing is written',
      placeHolder: 'item: 30 g; motor.kv: 2650 rpm/V',
      ...(value !== undefined && { value, valueSelection: numberIn(value) }),
    });
    const lines = (given ?? '').split(';').flatMap((line) => line.trim() || []);
    return lines.length === 0 ? undefined : { ...subject, lines };
  },
  read: (value) => {
    const subject = asSubject(value);
    const { lines } = fieldsOf(value);
    const areLines = Array.isArray(lines) && lines.every((line) => typeof line === 'string');
    return subject && areLines ? { ...subject, lines } : undefined;
  },
  title: ({ build, lines }) => `${build} with ${lines.join(', ').replaceAll('/', '∕')}`,
  otherwise: 'Nothing to try',
});
