/** The candidates of a shortlist for an editor's view: the sections of `fettle choose --format html`, with buttons that take a row. */
import type { CancellationToken, Connection } from 'vscode-languageserver';
import { ProgressType, WorkDoneProgress } from 'vscode-languageserver-protocol';
import type { PartNode } from '../../grammar/generated/ast.ts';
import { readShortlist } from '../../model/shortlists.ts';
import type { Chosen, Interim, Row, Watching } from '../../report/decide/choice.ts';
import { bestSoFar, CHOICE_SECTIONS, type ChoiceWays } from '../../report/decide/choice-sections.ts';
import { fileOf } from '../../syntax/nodes.ts';
import { placeOf } from '../../syntax/source.ts';
import { terminalSafe } from '../../syntax/terminal-safe.ts';
import { CannotChoose } from '../../trial/candidates.ts';
import type { EngineServices } from '../engine/editor-services.ts';
import { documentAt, whenChecked } from './checked-documents.ts';
import type { ChoiceAnswer, ChoiceParams, ChoiceSections, SheetSection } from './protocol.ts';
import { takingOf } from './take-row.ts';
import { Links } from './view-links.ts';

export async function choiceOf(
  services: EngineServices,
  params: ChoiceParams,
  cancellation: CancellationToken,
  connection: Connection,
): Promise<ChoiceAnswer> {
  const { uri, shortlist: name } = params;
  const shortlistsIn = () => fileOf(documentAt(services, uri)).parts.filter(({ kind }) => kind === 'shortlist');
  const namesOf = (parts: readonly PartNode[]) => parts.flatMap((part) => part.name ?? []);
  const before = await whenChecked(services, cancellation, () => namesOf(shortlistsIn()));
  if (!before.includes(name)) return { shortlists: before };
  const progress = new Progress(connection, params);
  try {
    const chosen = await services.lsp.Choices.of(params, cancellation, progress.watching);
    return await whenChecked(services, cancellation, () => {
      const parts = shortlistsIn();
      const node = parts.find((part) => part.name === name);
      const shortlists = namesOf(parts);
      if (!node) return { shortlists };
      const { title } = chosen;
      return {
        shortlists,
        choice: {
          shortlist: name,
          ...(title !== undefined && { title: terminalSafe(title) }),
          sections: sectionsOf(chosen, node, services),
        },
      };
    });
  } finally {
    progress.end();
  }
}

function sectionsOf(chosen: Chosen, node: PartNode, { workspace }: EngineServices): SheetSection[] {
  const { build } = readShortlist(node);
  const takings = new Map(chosen.rows.map((row) => [row, takenFrom(node, row)]));
  return CHOICE_SECTIONS.flatMap(({ id, of }) => {
    const links = new Links(workspace.LangiumDocuments);
    const ways: ChoiceWays = {
      toShortlist: () => links.toPlace(placeOf(node)),
      toBuild: () => build && links.toPlace(placeOf(build)),
      toPart: links.toPlace,
      toTake: (row) => (takings.get(row)?.edits.length ? links.to({ row: row.label }) : undefined),
      toChange: (row) => {
        const taking = takings.get(row);
        return taking && links.to(taking.at);
      },
    };
    const html = of(chosen, ways);
    return html === undefined ? [] : [{ id, html: html.text, targets: links.targets }];
  });
}

/** What is in no file yet cannot be taken. */
function takenFrom(node: PartNode, row: Row): ReturnType<typeof takingOf> {
  try {
    return takingOf(node, row);
  } catch (error) {
    if (error instanceof CannotChoose) return undefined;
    throw error;
  }
}

/** ms: nobody waits for what is done sooner; nobody reads faster than the pause. */
const PATIENCE = 400;
const PAUSE = 250;

/** Reports to a client that requests it how far the search is, and the best so far. */
class Progress {
  readonly #connection: Connection;
  readonly #params: ChoiceParams;
  #next = performance.now() + PATIENCE;
  #hasBegun = false;

  constructor(connection: Connection, params: ChoiceParams) {
    this.#connection = connection;
    this.#params = params;
  }

  get watching(): Pick<Watching, 'interim'> {
    return { interim: (sofar) => this.#report(sofar) };
  }

  end(): void {
    const { workDoneToken: token } = this.#params;
    if (this.#hasBegun && token !== undefined)
      void this.#connection.sendProgress(WorkDoneProgress.type, token, { kind: 'end' });
  }

  #report(sofar: Interim): void {
    const now = performance.now();
    if (now < this.#next) return;
    this.#next = now + PAUSE;
    const { workDoneToken: done, partialResultToken: part } = this.#params;
    const state = {
      message: `${sofar.done.toLocaleString('en')} of ${sofar.of.toLocaleString('en')}`,
      percentage: Math.floor((100 * sofar.done) / sofar.of),
    };
    if (done !== undefined) {
      const report = this.#hasBegun
        ? ({ kind: 'report', ...state } as const)
        : ({ kind: 'begin', title: 'Judging candidates', cancellable: true, ...state } as const);
      this.#hasBegun = true;
      void this.#connection.sendProgress(WorkDoneProgress.type, done, report);
    }
    if (part !== undefined) {
      const { id, html } = bestSoFar(sofar);
      const sections = [{ id, html: html.text, targets: [] }];
      void this.#connection.sendProgress(new ProgressType<ChoiceSections>(), part, { sections });
    }
  }
}
