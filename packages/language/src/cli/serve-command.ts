import { fileURLToPath } from 'node:url';

/** The language server on standard input and output. Its bundle is loaded only here: no other command pays for it. */
export async function serve(): Promise<void> {
  // The connection takes its streams from the command line, where `--stdio` is already understood.
  if (!process.argv.includes('--stdio')) process.argv.push('--stdio');
  const isSource = import.meta.url.endsWith('.ts');
  const server = new URL(isSource ? '../editor/server-node.ts' : './server-node.js', import.meta.url);
  // Where the server finds itself for its threads.
  process.argv[1] = fileURLToPath(server);
  await import(server.href);
}
