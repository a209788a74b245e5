/** What views show: the sheet of a build, the candidates of a shortlist. */
import { type BaseLanguageClient, type CancellationToken, ProgressType, WorkDoneProgress } from 'vscode-languageclient';
import { type ChoiceSections, choiceRequest, sheetRequest } from '../../../language/src/editor/requests/protocol.ts';
import type { Running, Shown } from './follower.ts';
import { asShortlist, asSubject, type Followed, type SheetSubject, type ShortlistSubject } from './view-messages.ts';

export interface ViewKind<About extends Followed> {
  /** Of the view, as the manifest names it. */
  readonly type: string;
  readonly kind: string;
  /** Of what was kept over a reload. */
  read(value: unknown): About | undefined;
  nameOf(subject: About): string;
  renamed(subject: About, name: string): About;
  readonly isQuickFirst: boolean;
  readonly outlivesChanges: boolean;
  /** What was checked anew may change what is shown. */
  isAbout(subject: About, checked: ReadonlySet<string>): boolean;
  request(client: BaseLanguageClient, subject: About, quick: boolean, running: Running): Promise<Shown>;
}

export const SHEET: ViewKind<SheetSubject> = {
  type: 'fettle.sheet',
  kind: 'build',
  read: asSubject,
  nameOf: ({ build }) => build,
  renamed: (subject, build) => ({ ...subject, build }),
  isQuickFirst: true,
  outlivesChanges: false,
  isAbout: ({ uri }, checked) => checked.has(uri),
  async request(client, subject, quick) {
    const { sheet, builds } = await client.sendRequest(sheetRequest, { ...subject, quick });
    return { names: builds, ...(sheet && { page: { ...sheet, title: sheet.title ?? sheet.build } }) };
  },
};

/** Tokens of progress, each once. */
let requests = 0;

/** Many files decide what a shortlist tries; the server answers at once where none of them has changed. */
export const CHOICE: ViewKind<ShortlistSubject> = {
  type: 'fettle.choice',
  kind: 'shortlist',
  read: asShortlist,
  nameOf: ({ shortlist }) => shortlist,
  renamed: (subject, shortlist) => ({ ...subject, shortlist }),
  isQuickFirst: false,
  outlivesChanges: true,
  isAbout: () => true,
  async request(client, subject, _quick, { signal, report, partly }) {
    const workDoneToken = `fettle-choice-${++requests}`;
    const partialResultToken = `${workDoneToken}-part`;
    const listeners = [
      client.onProgress(WorkDoneProgress.type, workDoneToken, (state) => {
        if (state.kind !== 'end') report(`Judging candidates: ${state.message ?? ''}`);
      }),
      client.onProgress(new ProgressType<ChoiceSections>(), partialResultToken, ({ sections }) => partly(sections)),
    ];
    try {
      const asked = { ...subject, workDoneToken, partialResultToken };
      const { choice, shortlists } = await client.sendRequest(choiceRequest, asked, tokenOf(signal));
      return {
        names: shortlists,
        ...(choice && { page: { title: choice.shortlist, isComplete: true, sections: choice.sections } }),
      };
    } finally {
      for (const listener of listeners) listener.dispose();
    }
  },
};

function tokenOf(signal: AbortSignal): CancellationToken {
  return {
    get isCancellationRequested() {
      return signal.aborted;
    },
    onCancellationRequested(listener, self) {
      const stop = () => listener.call(self, undefined);
      signal.addEventListener('abort', stop);
      return { dispose: () => signal.removeEventListener('abort', stop) };
    },
  };
}
