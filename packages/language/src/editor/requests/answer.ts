import type { Connection } from 'vscode-languageserver';
import {
  type CancellationToken,
  ErrorCodes,
  type HandlerResult,
  type RequestType,
  ResponseError,
} from 'vscode-languageserver-protocol';
import type { EngineServices } from '../engine/editor-services.ts';
import { unlessTextWentOn } from '../engine/overtaken-answers.ts';
import { buildSummaries } from './builds-request.ts';
import { documentAt, whenChecked } from './checked-documents.ts';
import { choiceOf } from './choice-request.ts';
import { isChooseArguments } from './choose-request.ts';
import { measuredBlockOf } from './measured-request.ts';
import { newBuildOf } from './new-build-request.ts';
import type * as Protocol from './protocol.ts';
import {
  buildsRequest,
  choiceRequest,
  measuredRequest,
  newBuildRequest,
  requirementsRequest,
  reviewRequest,
  sheetRequest,
  statusRequest,
} from './protocol.ts';
import { requirementsOf } from './requirements-request.ts';
import { sheetOf } from './sheet-request.ts';
import { statusOf } from './status-request.ts';

type AnsweredByClient = 'listFilesRequest' | 'readFileRequest';

type OwnRequest = Exclude<Extract<keyof typeof Protocol, `${string}Request`>, AnsweredByClient>;

interface Served {
  readonly services: EngineServices;
  readonly connection: Connection;
  readonly cancellation: CancellationToken;
}

type Serve = (connection: Connection, services: EngineServices) => void;

/** Parameters come from a client: what their type states may be missing all the same. */
const answered =
  <Params, Answer>(
    request: RequestType<Params, Answer, void>,
    answer: (params: Params | undefined, served: Served) => HandlerResult<Answer, void>,
  ): Serve =>
  (connection, services) =>
    connection.onRequest(request, (params, cancellation) => answer(params, { services, connection, cancellation }));

/** What answers each request of the protocol that is ours to answer: one that is left out does not compile. */
export const OWN_ANSWERS: Readonly<Record<OwnRequest, Serve>> = {
  buildsRequest: answered(buildsRequest, (_, { services, cancellation }) =>
    whenChecked(services, cancellation, () => buildSummaries(services)),
  ),
  requirementsRequest: answered(requirementsRequest, (params, { services, cancellation }) =>
    whenChecked(services, cancellation, () => requirementsOf(documentAt(services, params?.uri), services)),
  ),
  statusRequest: answered(statusRequest, (params, { services, cancellation }) =>
    whenChecked(services, cancellation, () => statusOf(documentAt(services, params?.uri), services)),
  ),
  sheetRequest: answered(sheetRequest, (params, { services, cancellation }) =>
    whenChecked(services, cancellation, () => {
      if (typeof params?.build !== 'string') return lacks('the build', '{ uri, build }');
      return sheetOf(documentAt(services, params.uri), params, services.workspace.LangiumDocuments);
    }),
  ),
  choiceRequest: answered(choiceRequest, (params, { services, cancellation, connection }) => {
    if (!isChooseArguments(params)) return lacks('the shortlist', '{ uri, shortlist }');
    return choiceOf(services, params, cancellation, connection);
  }),
  measuredRequest: answered(measuredRequest, (params, { services, cancellation }) =>
    unlessTextWentOn(params?.uri, services.workspace, () =>
      whenChecked(services, cancellation, () => {
        if (typeof params?.build !== 'string') return lacks('the build', '{ uri, build }');
        return measuredBlockOf(services, params);
      }),
    ),
  ),
  reviewRequest: answered(reviewRequest, (params, { services, cancellation }) =>
    services.lsp.Committed.review(params, cancellation),
  ),
  newBuildRequest: answered(newBuildRequest, (params, { services, cancellation }) =>
    whenChecked(services, cancellation, () => newBuildOf(params, services.workspace.LangiumDocuments)),
  ),
};

function lacks(what: string, form: string): never {
  throw new ResponseError(ErrorCodes.InvalidParams, `${what} is missing: ${form}`);
}
