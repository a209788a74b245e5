import type { Connection } from 'vscode-languageserver';
import type { ServerCapabilities } from 'vscode-languageserver-protocol';
import type { EngineServices } from './engine/editor-services.ts';

/** A feature for which Langium has no provider: what the server reports of it, and what answers the client. */
export interface OwnFeature {
  readonly offered: ServerCapabilities;
  readonly answer: (connection: Connection, shared: EngineServices) => void;
}
