/** Types texts key by key into a server and keeps what it states on the way. */
import type { Diagnostic } from 'vscode-languageserver-protocol';
import { uriOf } from '../references/memory-workspace.ts';
import { MemoryServer } from './memory-server.ts';

export interface Typed {
  /** Lines with something on them. */
  readonly lines: number;
  /** Reported at some key, and not any more when the text was finished; each once. */
  readonly falseMessages: readonly string[];
}

/** One text typed from its first to its last letter, or behind what is there already; `files` are there, too. @param pace ms between two keys */
export async function typed(
  files: ReadonlyMap<string, string>,
  path: string,
  text: string,
  pace: number,
  there = '',
  isQuiet = true,
): Promise<Typed> {
  const options = { quietWhileTyping: isQuiet };
  const server = await MemoryServer.start(new Map([...files, [path, there]]), new Map([[path, there]]), {}, options);
  const seen = new Map<string, string>();
  const own = uriOf(path).toString();
  const before = new Set(messages(server, own));
  let written = there;
  for (const key of keysOf(text.slice(there.length))) {
    written += key;
    await server.typeText(path, key);
    await server.built();
    await server.elapse(pace);
    for (const reported of messages(server, own))
      if (!seen.has(reported)) seen.set(reported, written.slice(written.lastIndexOf('\n') + 1));
  }
  await server.settled();
  const final = new Set(messages(server, own));
  server.stop();
  return {
    lines: text
      .slice(there.length)
      .split('\n')
      .filter((line) => line.trim() !== '').length,
    falseMessages: [...seen]
      .filter(([reported]) => !final.has(reported) && !before.has(reported))
      .map(([reported, line]) => `${JSON.stringify(line)}: ${reported}`),
  };
}

/** As a keyboard gives them: an editor indents the next line with the key that begins it. */
function keysOf(text: string): string[] {
  return text.match(/\n *|[\s\S]/gu) ?? [];
}

const messages = (server: MemoryServer, own: string): string[] =>
  [...server.shown].flatMap(([uri, diagnostics]) =>
    diagnostics.map((one: Diagnostic) => `${uri === own ? '' : `${uri} `}${one.code}: ${one.message}`),
  );
