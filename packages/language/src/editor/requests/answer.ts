import type { Connection } from 'vscode-languageserver';
import { ErrorCodes, ResponseError } from 'vscode-languageserver-protocol';
import type { EngineServices } from '../engine/editor-services.ts';
import { unlessTextWentOn } from '../engine/overtaken-answers.ts';
import { buildSummaries } from './builds-request.ts';
import { documentAt, whenChecked } from './checked-documents.ts';
import { choiceOf } from './choice-request.ts';
import { isChooseArguments } from './choose-request.ts';
import { measuredBlockOf } from './measured-request.ts';
import { newBuildOf } from './new-build-request.ts';
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

/** Answers the requests of `protocol.ts`. */
export function answerOwnRequests(connection: Connection, services: EngineServices): void {
  const { LangiumDocuments } = services.workspace;
  connection.onRequest(buildsRequest, (_params, cancellation) =>
    whenChecked(services, cancellation, () => buildSummaries(services)),
  );
  connection.onRequest(requirementsRequest, (params, cancellation) =>
    whenChecked(services, cancellation, () => requirementsOf(documentAt(services, params?.uri), services)),
  );
  connection.onRequest(statusRequest, (params, cancellation) =>
    whenChecked(services, cancellation, () => statusOf(documentAt(services, params?.uri), services)),
  );
  connection.onRequest(sheetRequest, (params, cancellation) =>
    whenChecked(services, cancellation, () => {
      if (typeof params?.build !== 'string') {
        throw new ResponseError(ErrorCodes.InvalidParams, 'the build is missing: { uri, build }');
      }
      return sheetOf(documentAt(services, params.uri), params, LangiumDocuments);
    }),
  );
  connection.onRequest(choiceRequest, (params, cancellation) => {
    if (!isChooseArguments(params)) {
      throw new ResponseError(ErrorCodes.InvalidParams, 'the shortlist is missing: { uri, shortlist }');
    }
    return choiceOf(services, params, cancellation, connection);
  });
  connection.onRequest(measuredRequest, (params, cancellation) =>
    unlessTextWentOn(params?.uri, services.workspace, () =>
      whenChecked(services, cancellation, () => {
        if (typeof params?.build !== 'string') {
          throw new ResponseError(ErrorCodes.InvalidParams, 'the build is missing: { uri, build }');
        }
        return measuredBlockOf(services, params);
      }),
    ),
  );
  connection.onRequest(reviewRequest, (params, cancellation) => services.lsp.Committed.review(params, cancellation));
  connection.onRequest(newBuildRequest, (params, cancellation) =>
    whenChecked(services, cancellation, () => newBuildOf(params, LangiumDocuments)),
  );
}
