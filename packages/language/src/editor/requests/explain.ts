/** The command `fettle.explain`: how a result came about, down to the figures, as Markdown. */

import type { ExecuteCommandHandler } from 'langium/lsp';
import type { CancellationToken } from 'vscode-languageserver';
import { ErrorCodes, ResponseError } from 'vscode-languageserver-protocol';
import { withResult } from '../../analysis/pack-grams.ts';
import type { EngineServices } from '../engine/services.ts';
import { wholeDerivation } from '../hover/derivation.ts';
import { buildIn, documentAt, refuse, whenChecked } from './checked.ts';

export const EXPLAIN = 'fettle.explain';

export interface ExplainArguments {
  readonly uri: string;
  readonly build: string;
  /** `hover_time`, `rail.video.voltage`. */
  readonly result: string;
  /** The build's first one when absent. */
  readonly pack?: string;
}

export class FettleCommands implements ExecuteCommandHandler {
  readonly commands = [EXPLAIN];
  private readonly services: EngineServices;

  constructor(services: EngineServices) {
    this.services = services;
  }

  async executeCommand(name: string, given: unknown[], cancellation: CancellationToken): Promise<unknown> {
    if (name !== EXPLAIN) {
      throw new ResponseError(ErrorCodes.InvalidParams, `no such command: ${name}`);
    }
    const [asked] = given;
    if (!isExplainArguments(asked)) {
      throw new ResponseError(ErrorCodes.InvalidParams, `${EXPLAIN} takes { uri, build, result, pack? }`);
    }
    return whenChecked(this.services, cancellation, () => this.explain(asked));
  }

  private explain({ uri, build, result, pack }: ExplainArguments): string {
    const { assessments } = buildIn(documentAt(this.services, uri), build);
    const found = pack === undefined ? assessments[0] : assessments.find(({ option }) => option.name === pack);
    if (found === undefined) {
      return refuse(pack === undefined ? `${build} has no pack` : `${build} has no pack ${pack}`);
    }
    const assessment = withResult(result, found);
    const missing = assessment.missing.get(result);
    return (
      wholeDerivation(result, assessment) ??
      refuse(missing === undefined ? `no such result: ${result}` : `no ${missing.label}: ${missing.reason}`)
    );
  }
}

function isExplainArguments(value: unknown): value is ExplainArguments {
  const { uri, build, result, pack } = (value ?? {}) as Partial<Record<keyof ExplainArguments, unknown>>;
  const isOptional = pack === undefined || typeof pack === 'string';
  return typeof uri === 'string' && typeof build === 'string' && typeof result === 'string' && isOptional;
}
