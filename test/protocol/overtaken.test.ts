/**
 * Requests of a client that goes on typing. What an answer may be, and why a client can rest on it:
 *
 * - Exactly one, and no mistake of ours: a result, or a refusal that the protocol provides.
 * - A result is that of a server at rest which has the texts as they were when the request was sent. A client that maps places through what was
 *   typed since, and one that applies an edit to the text it had, are both right.
 * - Where the text went on and the answer is not computed from the requested one, it is refused with `ContentModified` (findings with
 *   `ServerCancelled`, to be requested again): clients show nothing of it, and have sent, or will send, a request for the later text.
 * - Offers of a completion may be of a later text, but not what they replace: what else can be named changes nothing in the letters typed.
 * - Where other files changed meanwhile, the answer may rest on these: the same request a moment later had been answered so. Places in them
 *   are within a text that they had since the request; edits of them state their version, which the client compares.
 * - What another program left on the disk may not be read yet: whoever requests cannot know when it was written.
 */
import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import { LSPErrorCodes, Position } from 'vscode-languageserver-protocol';
import { cases } from '../long.ts';
import { randomNumbers } from '../seeded.ts';
import { START } from './edit-bursts.ts';
import { HastyClient, isPlaceIn, type Moment, paramsOf, type Sent, serverFor } from './hasty-client.ts';
import type { MemoryServer } from './memory-server.ts';

const SEED = Number(process.env.FETTLE_SEED ?? 1);
const SESSIONS = cases(4, 60);
const STEPS = 240;
const ENCODINGS = ['utf-16', 'utf-8', 'utf-32'] as const;

let logged: string[] = [];
beforeEach(() => {
  logged = [];
  // Half-made files are reported in the log.
  vi.spyOn(console, 'warn').mockImplementation(() => undefined);
  vi.spyOn(console, 'error').mockImplementation((...words) => {
    logged.push(words.map(String).join(' '));
  });
});
afterEach(() => {
  vi.restoreAllMocks();
});

test(
  'whatever is typed meanwhile, an answer is right for the text that was requested, or refused',
  async () => {
    const outcomes = { compared: 0, overtaken: 0 };
    for (let seed = SEED; seed < SEED + SESSIONS; seed++) {
      const encoding = ENCODINGS[seed % ENCODINGS.length] ?? 'utf-16';
      const client = await HastyClient.start(new Map(Object.entries(START)), encoding, randomNumbers(seed));
      for (let step = 0; step < STEPS; step++) await client.step();
      await client.settled();
      const quiet = new QuietServer(await serverFor(new Map(Object.entries(START)), encoding));
      for (const [index, sent] of client.sent.entries()) {
        const where = `seed ${seed}, request ${index}: ${sent.method} in ${sent.path}`;
        expect(refusalProblem(sent), where).toBeUndefined();
        expect(strayPlaces(sent, client), where).toEqual([]);
        if (isOvertaken(sent)) outcomes.overtaken++;
        if (!isComparable(sent)) continue;
        outcomes.compared++;
        expect(plain(sent.answer, sent), where).toEqual(plain(await quiet.answerTo(sent), sent));
      }
      expect([...client.server.answered.values()].filter((count) => count !== 1)).toEqual([]);
      expect(logged).toEqual([]);
      client.server.stop();
      await quiet.stop();
    }
    // Neither rule is kept by refusing everything, or where nothing goes on.
    expect(outcomes.compared).toBeGreaterThan(10 * SESSIONS);
    expect(outcomes.overtaken).toBeGreaterThan(5 * SESSIONS);
  },
  60_000 + SESSIONS * 30_000,
);

const isOvertaken = ({ refusal }: Sent): boolean =>
  refusal?.code === LSPErrorCodes.ContentModified || refusal?.code === LSPErrorCodes.ServerCancelled;

function refusalProblem(sent: Sent): string | undefined {
  const { method, path, refusal, before, after, cancellation } = sent;
  if (after === undefined) return 'no answer';
  if (refusal === undefined) return undefined;
  const { code, message } = refusal;
  if (code === LSPErrorCodes.RequestCancelled && cancellation.token.isCancellationRequested) return undefined;
  // There is no such file now, or what it is requested for is not in the text.
  if (code === LSPErrorCodes.RequestFailed) return undefined;
  const isChanged =
    before.count !== after.count || before.open.get(path) !== after.open.get(path) || !isThere(path, after);
  const isProvided = code !== LSPErrorCodes.ServerCancelled || method === 'textDocument/diagnostic';
  if (isOvertaken(sent) && isChanged && isProvided) return undefined;
  return `${code}: ${message}`;
}

const isThere = (path: string, { open, disk }: Moment): boolean => open.has(path) || disk.has(path);

const textOf = (path: string, { open, disk }: Moment): string | undefined => open.get(path) ?? disk.get(path);

/** Positions that are in no text to which they may belong. */
function strayPlaces({ answer, path, before, after }: Sent, client: HastyClient): string[] {
  const found: string[] = [];
  const seen = client.history.slice(0, after?.count);
  const textsOf = (of: string, version: number | undefined): readonly (string | undefined)[] => {
    // One that is opened again begins anew with its versions.
    if (version !== undefined)
      return seen.flatMap((one) => (one.path === of && one.version === version ? one.text : []));
    if (of === path) return [textOf(path, before)];
    if (!before.isDiskRead) return seen.flatMap((one) => (one.path === of ? one.text : []));
    return [textOf(of, before), ...seen.slice(before.count).flatMap((one) => (one.path === of ? one.text : []))];
  };
  const walk = (value: unknown, of: string, version: number | undefined): void => {
    if (Array.isArray(value)) for (const one of value) walk(one, of, version);
    if (typeof value !== 'object' || value === null || Array.isArray(value)) return;
    if (Position.is(value)) {
      const isIn = textsOf(of, version).some((text) => text !== undefined && isPlaceIn(text, value, client.encoding));
      if (!isIn) found.push(`${of} ${value.line}:${value.character}`);
      return;
    }
    const { uri, textDocument } = value as { uri?: string; textDocument?: { uri: string; version: number | null } };
    const own = pathOf(textDocument?.uri ?? uri) ?? of;
    for (const [key, one] of Object.entries(value)) {
      const target = key.startsWith('target') ? pathOf((value as { targetUri?: string }).targetUri) : undefined;
      walk(one, target ?? pathOf(key) ?? own, textDocument?.version ?? (own === of ? version : undefined));
    }
  };
  walk(answer, path, undefined);
  return found;
}

const HOME = 'file:///home/';
const pathOf = (uri: string | undefined): string | undefined =>
  uri?.startsWith(HOME) ? uri.slice(HOME.length) : undefined;

/** Of a result, if nothing that it may rest on changed besides the text of its own file. */
function isComparable({ refusal, path, before, after, cancellation }: Sent): boolean {
  if (refusal !== undefined || after === undefined || cancellation.token.isCancellationRequested) return false;
  if (!before.isDiskRead) return false;
  const paths = new Set([...before.disk.keys(), ...after.disk.keys(), ...before.open.keys(), ...after.open.keys()]);
  const others = [...paths].filter((one) => one !== path);
  return isThere(path, after) && others.every((one) => textOf(one, before) === textOf(one, after));
}

const byText = (one: unknown, other: unknown): number => (JSON.stringify(one) < JSON.stringify(other) ? -1 : 1);

/** Without what differs between servers, as the order of files; of offers that went on what they replace. */
function plain(answer: unknown, { method, path, before, after }: Sent): unknown {
  if (method === 'textDocument/completion' && after && textOf(path, before) !== textOf(path, after)) {
    const { items } = answer as { items: { textEdit: { range: unknown } }[] };
    return [...new Set(items.map(({ textEdit }) => JSON.stringify(textEdit.range)))];
  }
  const { documentChanges } = (answer ?? {}) as { documentChanges?: unknown[] };
  const places = Array.isArray(answer) && method === 'textDocument/references' ? answer : documentChanges;
  return JSON.parse(
    JSON.stringify(places?.toSorted(byText) ?? answer, (key, value: unknown) =>
      key === 'version' || key === 'resultId' || (key === 'data' && method === 'textDocument/completion')
        ? null
        : value,
    ),
  );
}

/** Has the texts that another client had, and nobody types there. */
class QuietServer {
  readonly #server: MemoryServer;
  readonly #open = new Map<string, string>();

  constructor(server: MemoryServer) {
    this.#server = server;
  }

  async answerTo(sent: Sent): Promise<unknown> {
    const { open, disk } = sent.before;
    const { texts } = this.#server.files;
    for (const path of [...this.#open.keys()].filter((one) => !open.has(one))) {
      this.#open.delete(path);
      await this.#server.closeText(path);
    }
    for (const path of [...texts.keys()].map((key) => key.replace('/home/', '')))
      if (!disk.has(path)) await this.#server.deleteFile(path);
    for (const [path, text] of disk) if (texts.get(`/home/${path}`) !== text) await this.#server.writeFile(path, text);
    for (const [path, text] of open) {
      if (this.#open.get(path) === text) continue;
      if (this.#open.has(path)) await this.#server.changeText(path, text);
      else await this.#server.openText(path, text);
      this.#open.set(path, text);
    }
    await this.#server.settled();
    return this.#server.ask(sent.method, paramsOf(sent));
  }

  async stop(): Promise<void> {
    await this.#server.settled();
    this.#server.stop();
  }
}
