import type { Connection } from 'vscode-languageserver';
import type { InitializeParams, ServerCapabilities } from 'vscode-languageserver-protocol';
import type { EngineServices } from './engine/editor-services.ts';

/** A feature for which Langium has no provider: what the server reports of it, and what answers the client. */
export interface OwnFeature<Capability extends keyof ServerCapabilities> {
  /** Undefined for a client that has no use for it. */
  readonly offered: (client: InitializeParams) => Exclude<ServerCapabilities[Capability], false> | undefined;
  readonly answer: (connection: Connection, shared: EngineServices) => void;
}
