import { createConnection, ProposedFeatures } from 'vscode-languageserver/node';
import { NodeFiles } from '../model/references/node-files.ts';
import { startServer } from './start.ts';

/** The transport follows from the command line: `--stdio`, `--node-ipc`, `--socket=…` or `--pipe=…`. */
export function startNodeServer(): void {
  startServer(createConnection(ProposedFeatures.all), new NodeFiles());
}
