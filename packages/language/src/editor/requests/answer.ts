import type { Connection } from 'vscode-languageserver';
import type { EngineServices } from '../engine/services.ts';
import { buildsOf } from './builds.ts';
import { documentAt, whenChecked } from './checked.ts';
import { buildsRequest, requirementsRequest } from './protocol.ts';
import { requirementsOf } from './requirements.ts';

/** Answers the requests of `protocol.ts`. */
export function answerOwnRequests(connection: Connection, services: EngineServices): void {
  const { LangiumDocuments } = services.workspace;
  connection.onRequest(buildsRequest, (_params, cancellation) =>
    whenChecked(services, cancellation, () => ({ builds: buildsOf(services) })),
  );
  connection.onRequest(requirementsRequest, (params, cancellation) =>
    whenChecked(services, cancellation, () => ({
      builds: requirementsOf(documentAt(services, params?.uri), LangiumDocuments),
    })),
  );
}
