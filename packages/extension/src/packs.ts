import type { BaseLanguageClient } from 'vscode-languageclient';
import type { AnswerPages } from './answer-pages.ts';
import { asSubject, type Subject } from './sheet/messages.ts';
import { subjectOf } from './sheet/open-sheet.ts';

export const COMPARE_PACKS = 'fettle.comparePacks';

/** The packs of a build side by side, with the ± of their differences. */
export const packComparisons = (client: BaseLanguageClient): AnswerPages<Subject> => ({
  scheme: 'fettle-packs',
  command: COMPARE_PACKS,
  ask: 'fettle.compare',
  meant: (requested) => subjectOf(requested, client),
  read: asSubject,
  title: ({ build }) => `${build} on each of its packs`,
  otherwise: 'Nothing to compare',
});
