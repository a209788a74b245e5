/** The commands of `workspace/executeCommand`: all but the one that edits answer Markdown, from the text as typed. */
import type { ExecuteCommandHandler } from 'langium/lsp';
import type { CancellationToken } from 'vscode-languageserver';
import { ErrorCodes, ResponseError } from 'vscode-languageserver-protocol';
import { ClientEdits } from '../client-edits.ts';
import type { EngineServices } from '../engine/editor-services.ts';
import { namesBuild, whenChecked } from './checked-documents.ts';
import { chooseIn, isChooseArguments, isTakeArguments, isTryArguments, takeRow, tryIn } from './choose-request.ts';
import { compareIn } from './compare-request.ts';
import { explainIn, isExplainArguments } from './explain-request.ts';
import { sensitivityIn } from './sensitivity-request.ts';

const EXPLAIN = 'fettle.explain';
const COMPARE = 'fettle.compare';
const CHOOSE = 'fettle.choose';
const TAKE = 'fettle.take';
const TRY = 'fettle.try';
const SENSITIVITY = 'fettle.sensitivity';

export class FettleCommands implements ExecuteCommandHandler {
  readonly commands = [EXPLAIN, COMPARE, CHOOSE, TAKE, TRY, SENSITIVITY];
  readonly #services: EngineServices;
  readonly #client: ClientEdits;

  constructor(services: EngineServices) {
    this.#services = services;
    this.#client = new ClientEdits(services);
  }

  async executeCommand(name: string, given: unknown[], cancellation: CancellationToken): Promise<unknown> {
    const [asked] = given;
    // What takes a while reads a copy, so that nobody who types waits for it.
    if (name === CHOOSE) {
      if (isChooseArguments(asked)) return chooseIn(this.#services, asked, cancellation);
      throw new ResponseError(ErrorCodes.InvalidParams, `${CHOOSE} takes { uri, shortlist }`);
    }
    if (name === TAKE) {
      if (isTakeArguments(asked)) return takeRow(this.#services, this.#client, asked, cancellation);
      throw new ResponseError(ErrorCodes.InvalidParams, `${TAKE} takes { uri, shortlist, row }`);
    }
    if (name === TRY) {
      if (isTryArguments(asked)) return tryIn(this.#services, asked, cancellation);
      throw new ResponseError(ErrorCodes.InvalidParams, `${TRY} takes { uri, build, lines }`);
    }
    if (name === SENSITIVITY) {
      if (namesBuild(asked)) return sensitivityIn(this.#services, asked, cancellation);
      throw new ResponseError(ErrorCodes.InvalidParams, `${SENSITIVITY} takes { uri, build }`);
    }
    const answer = this.#answerTo(name, asked);
    return whenChecked(this.#services, cancellation, answer);
  }

  #answerTo(name: string, requested: unknown): () => string {
    switch (name) {
      case EXPLAIN:
        if (isExplainArguments(requested)) return () => explainIn(this.#services, requested);
        throw new ResponseError(ErrorCodes.InvalidParams, `${EXPLAIN} takes { uri, build, result, pack? }`);
      case COMPARE:
        if (namesBuild(requested)) return () => compareIn(this.#services, requested);
        throw new ResponseError(ErrorCodes.InvalidParams, `${COMPARE} takes { uri, build }`);
      default:
        throw new ResponseError(ErrorCodes.InvalidParams, `no such command: ${name}`);
    }
  }
}
