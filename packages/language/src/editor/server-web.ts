import { BrowserMessageReader, BrowserMessageWriter, createConnection } from 'vscode-languageserver/browser';
import { ClientFiles } from './engine/client-files.ts';
import { startServer } from './start.ts';

// The worker's own global object: the page sends its messages through it.
// biome-ignore lint/plugin: its type is in a library that redeclares what Node has.
const worker = globalThis as unknown as ConstructorParameters<typeof BrowserMessageReader>[0];
const connection = createConnection(new BrowserMessageReader(worker), new BrowserMessageWriter(worker));
startServer(connection, new ClientFiles(connection));
