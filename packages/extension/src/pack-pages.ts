import type { BaseLanguageClient } from 'vscode-languageclient';
import { COMPARE_PACKS } from '../../language/src/editor/requests/protocol.ts';
import type { AnswerPages } from './answer-pages.ts';
import { subjectMeant } from './sheet/open-sheet.ts';
import { asSubject, type SheetSubject } from './sheet/view-messages.ts';

/** The packs of a build side by side, with the ± of their differences. */
export const packComparisons = (client: BaseLanguageClient): AnswerPages<SheetSubject> => ({
  scheme: 'fettle-packs',
  command: COMPARE_PACKS,
  ask: 'fettle.compare',
  meant: (requested) => subjectMeant(requested, client),
  read: asSubject,
  title: ({ build }) => `${build} on each of its packs`,
  otherwise: 'Nothing to compare',
});
