import { window } from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import type { AnswerPages } from './answer-pages.ts';
import { asShortlist, asSubject, fieldsOf, type Shortlist, type Subject } from './sheet/messages.ts';
import { subjectOf } from './sheet/open-sheet.ts';

export const SHOW_CHOICE = 'fettle.showChoice';
export const TRY_LINES = 'fettle.tryLines';
export const SHOW_STEPS = 'fettle.showSteps';

/** What the lens names; of the file in front the shortlist at the cursor, or the one that is picked. */
export async function shortlistOf(asked: unknown): Promise<Shortlist | undefined> {
  const named = asShortlist(asked);
  if (named) return named;
  const editor = window.activeTextEditor;
  const document = editor?.document;
  const headers = [...(document?.getText() ?? '').matchAll(/^[ \t]*shortlist[ \t]+([\p{L}_][\p{L}\p{M}\p{Nd}_]*)/gmu)];
  const [first] = headers;
  if (editor === undefined || document?.languageId !== 'fettle' || first === undefined) {
    void window.showInformationMessage('There is no shortlist in this file: `shortlist Name { for: Build … }`.');
    return undefined;
  }
  const before = headers.findLast(({ index }) => document.positionAt(index).line <= editor.selection.active.line);
  const names = headers.map(([, name = '']) => name);
  const picked =
    names.length === 1
      ? names[0]
      : (before?.[1] ?? (await window.showQuickPick(names, { placeHolder: 'Which shortlist?' })));
  return picked === undefined ? undefined : { uri: document.uri.toString(), shortlist: picked };
}

/** Of what comes after the colon: that is what one changes. */
function numberIn(line: string): [number, number] {
  const [text = '', before = ''] = /^([^:]*:\s*)?[\d.]+/.exec(line) ?? [];
  return [before.length, text.length];
}

/** What a step of each figure of a build does. */
export const steps = (client: BaseLanguageClient): AnswerPages<Subject> => ({
  scheme: 'fettle-steps',
  command: SHOW_STEPS,
  ask: 'fettle.sensitivity',
  meant: (asked) => subjectOf(asked, client),
  read: asSubject,
  title: ({ build }) => `${build}, what a step does`,
  otherwise: 'Nothing to step',
});

interface Tried extends Subject {
  readonly lines: readonly string[];
}

/** A build with other lines, before anybody edits it. */
export const trials = (client: BaseLanguageClient): AnswerPages<Tried> => ({
  scheme: 'fettle-try',
  command: TRY_LINES,
  ask: 'fettle.try',
  meant: async (asked) => {
    const subject = await subjectOf(asked, client);
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
