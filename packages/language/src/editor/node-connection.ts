import { existsSync, realpathSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { createConnection, ProposedFeatures } from 'vscode-languageserver/node';
import { reportChanges } from '../workspace/folder-changes.ts';
import { NodeFiles } from '../workspace/node-files.ts';
import { reviewerInThread } from './committed/review-thread.ts';
import { ClientFiles } from './engine/client-files.ts';
import { Frames } from './engine/frames.ts';
import { startServer } from './start.ts';

/** Requests files from the client, as in a browser: for a workspace that is on no disk. */
const CLIENT_FILES = '--client-files';

/** The transport follows from the command line: `--stdio`, `--node-ipc`, `--socket=…` or `--pipe=…`. */
export function startNodeServer(): void {
  const connection = process.argv.includes('--stdio')
    ? createConnection(ProposedFeatures.all, process.stdin.pipe(new Frames(process.stdout)), process.stdout)
    : createConnection(ProposedFeatures.all);
  // A mistake of ours costs an answer or a finding, never the session: it is reported in the client's log.
  process.on('uncaughtException', (error) =>
    connection.console.error(`Internal error: ${error.stack ?? error.message}`),
  );
  process.on('unhandledRejection', (reason) => connection.console.error(`Internal error: ${String(reason)}`));
  if (process.argv.includes(CLIENT_FILES)) startServer(connection, new ClientFiles(connection));
  else {
    const reference = referencePages();
    startServer(connection, new NodeFiles(), {
      reviewer: reviewerInThread(),
      watch: reportChanges,
      ...(reference !== undefined && { reference }),
    });
  }
}

/** The package has them next to its bundles, the extension below them, the sources two folders up. */
function referencePages(): string | undefined {
  try {
    const here = dirname(realpathSync(process.argv[1] ?? ''));
    const folder = ['../reference', 'reference', '../../reference']
      .map((path) => join(here, path))
      .find((path) => existsSync(join(path, 'findings', 'syntax.md')));
    return folder && `${pathToFileURL(folder)}/`;
  } catch {
    return undefined;
  }
}
