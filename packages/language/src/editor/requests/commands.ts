/** The commands of `workspace/executeCommand`: all but the one that edits answer Markdown, from the text as typed. */
import type { ExecuteCommandHandler } from 'langium/lsp';
import type { CancellationToken } from 'vscode-languageserver';
import { ErrorCodes, ResponseError } from 'vscode-languageserver-protocol';
import { keysOf, lookup } from '../../units/lookup-table.ts';
import { ClientEdits } from '../client-edits.ts';
import type { EngineServices } from '../engine/editor-services.ts';
import { namesBuild, whenChecked } from './checked-documents.ts';
import { chooseIn, isChooseArguments, isTakeArguments, isTryArguments, takeRow, tryIn } from './choose-request.ts';
import { compareIn } from './compare-request.ts';
import { explainIn, isExplainArguments } from './explain-request.ts';
import { sensitivityIn } from './sensitivity-request.ts';

type Answer<Argument> = (
  services: EngineServices,
  argument: Argument,
  cancellation: CancellationToken,
  client: ClientEdits,
) => Promise<unknown>;

/** What a command takes, and what answers it. */
interface Answered {
  readonly takes: string;
  /** Undefined for an argument of another form. */
  readonly answer: (...asked: Parameters<Answer<unknown>>) => Promise<unknown> | undefined;
}

const taking = <Argument>(
  takes: string,
  isOfForm: (argument: unknown) => argument is Argument,
  answer: Answer<Argument>,
): Answered => ({
  takes,
  answer: (services, argument, ...further) => (isOfForm(argument) ? answer(services, argument, ...further) : undefined),
});

/** What takes a while reads a copy, so that nobody who types waits for it; the others answer when all is checked. */
const COMMANDS = {
  'fettle.explain': taking('{ uri, build, result, pack? }', isExplainArguments, (services, asked, cancellation) =>
    whenChecked(services, cancellation, () => explainIn(services, asked)),
  ),
  'fettle.compare': taking('{ uri, build }', namesBuild, (services, asked, cancellation) =>
    whenChecked(services, cancellation, () => compareIn(services, asked)),
  ),
  'fettle.choose': taking('{ uri, shortlist }', isChooseArguments, chooseIn),
  'fettle.take': taking('{ uri, shortlist, row }', isTakeArguments, (services, asked, cancellation, client) =>
    takeRow(services, client, asked, cancellation),
  ),
  'fettle.try': taking('{ uri, build, lines }', isTryArguments, tryIn),
  'fettle.sensitivity': taking('{ uri, build }', namesBuild, sensitivityIn),
} satisfies Readonly<Record<string, Answered>>;

const NAMED: Readonly<Record<string, Answered>> = lookup(COMMANDS);

export class FettleCommands implements ExecuteCommandHandler {
  readonly commands = keysOf(COMMANDS);
  readonly #services: EngineServices;
  readonly #client: ClientEdits;

  constructor(services: EngineServices) {
    this.#services = services;
    this.#client = new ClientEdits(services);
  }

  async executeCommand(name: string, [argument]: unknown[], cancellation: CancellationToken): Promise<unknown> {
    const command = NAMED[name];
    if (!command) throw new ResponseError(ErrorCodes.InvalidParams, `no such command: ${name}`);
    const answer = command.answer(this.#services, argument, cancellation, this.#client);
    if (!answer) throw new ResponseError(ErrorCodes.InvalidParams, `${name} takes ${command.takes}`);
    return answer;
  }
}
