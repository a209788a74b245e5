/** A client that counts bytes (UTF-8) or whole characters (UTF-32) gets the answers of one that counts UTF-16 units, at the same places. */
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { Position } from 'vscode-languageserver-protocol';
import {
  DidChangeTextDocumentNotification,
  DidOpenTextDocumentNotification,
} from 'vscode-languageserver-protocol/node';
import { cases } from '../long.ts';
import { type Encoding, offsetOf, positionOf } from './counted-positions.ts';
import { Session } from './session.ts';

const PARTS = `// 🦇 „Kirche“: 12 µm of dust, 3 m² of floor
motor Größe_1506 "1506 🚁 “stator”" { kv: 3900 rpm/V  resistance: 74 mohm measured "µΩ meter 🔧"  rated: 3S  mass: 12.4 g }
motor Größe_ohm "²³ 🦉" like Größe_1506 { /* */ }
item Strap "🎗 “strap”" { mass: 1.6 g }
propeller P3022x3 "3 × 🍃" { diameter: 76 mm  pitch: 2.2 in  blades: 3 }
`.replace(' { /* */ }', ' { kv: 2400 rpm/V }');

const BUILD = `use "./teile.fettle"  // 🦇🦇 parts
airframe Open152 "🏰 “tower”" { rotors: 4  mass: 47.5 g }
esc Board32 "32 A — 4 channels 🔥" { channels: 4  cells: 3S .. 6S  continuous: 32 A  mass: 11.3 g  rail vidéo { from: pack  type: buck  output: 5 V  continuous: 1.4 A } }
load Caméra "📷 4 µm" { draw: 3.7 W  supply: 4.5 V .. 12 V  mass: 16.2 g }
pack Slim_3S "🔋 900 mAh" { chemistry: lipo  cells: 3S  capacity: 900 mAh  discharge: 70C claimed  mass: 78 g }
build Fledermaus "🦇 “Fledermaus”, ½ Stunde" {
  airframe: Open152
  motors: 4 x Größe_1506 with P3022x3  // 🚁 each
  esc: Board32
  load: Caméra from Board32.vidéo  // 📷
  pack: Slim_3S as Größe  require hover_time >= 4 min because "🏰 up and ↓"  require thrust_to_weight >= 3
  item: 3 g "“solder” 🔧"  item: Strep
  note "🦉 look up" for preflight
}
`;

const FILES = { 'teile.fettle': PARTS, 'bau.fettle': BUILD };
type Path = keyof typeof FILES;
class Client {
  readonly texts: Record<string, string> = { ...FILES };
  readonly session: Session;
  readonly encoding: Encoding;
  #version = 1;

  private constructor(session: Session, encoding: Encoding) {
    this.session = session;
    this.encoding = encoding;
  }

  static async start(encoding: Encoding): Promise<Client> {
    const session = await Session.start({
      files: FILES,
      capabilities: {
        general: { positionEncodings: encoding === 'utf-16' ? ['utf-16'] : [encoding, 'utf-16'] },
        workspace: { workspaceEdit: { documentChanges: true } },
        textDocument: {
          diagnostic: {},
          publishDiagnostics: { versionSupport: true, relatedInformation: true },
          hover: { contentFormat: ['plaintext'] },
          definition: { linkSupport: true },
          implementation: { linkSupport: true },
          typeHierarchy: {},
          signatureHelp: {},
          documentSymbol: { hierarchicalDocumentSymbolSupport: true },
          rename: { prepareSupport: true },
          semanticTokens: {
            requests: { full: { delta: true }, range: true },
            tokenTypes: [],
            tokenModifiers: [],
            formats: [],
          },
          codeAction: { codeActionLiteralSupport: { codeActionKind: { valueSet: [] } } },
        },
      },
    });
    const client = new Client(session, encoding);
    for (const [path, text] of Object.entries(FILES))
      await session.connection.sendNotification(DidOpenTextDocumentNotification.type, {
        textDocument: { uri: session.uri(path), languageId: 'fettle', version: 1, text },
      });
    return client;
  }

  at(path: Path, offset: number): Position {
    return positionOf(this.texts[path] ?? '', offset, this.encoding);
  }

  /** The same for every encoding: offsets in place of positions, paths in place of addresses. */
  async ask(method: string, params: object): Promise<unknown> {
    const answer: unknown = await this.session.connection.sendRequest(method, params);
    const { textDocument, item } = params as { textDocument?: { uri: string }; item?: { uri: string } };
    return this.plain(answer, textDocument?.uri ?? item?.uri ?? '');
  }

  plain(answer: unknown, uri: string): unknown {
    if (typeof answer === 'string')
      return answer.replaceAll(this.session.uri(''), '').replaceAll(this.session.folder, '');
    if (Array.isArray(answer)) return answer.map((one) => this.plain(one, uri));
    if (typeof answer !== 'object' || answer === null) return answer;
    const { line, character, targetUri, from } = answer as Record<string, never>;
    if (typeof line === 'number' && typeof character === 'number') return this.#offset({ line, character }, uri);
    const { uri: own = from && (from as { uri: string }).uri } = answer as { uri?: string };
    return Object.fromEntries(
      Object.entries(answer)
        // Of its positions as they are counted.
        .filter(([key]) => key !== 'resultId')
        .map(([key, value]) => {
          const about = key.startsWith('target') ? (targetUri ?? uri) : key.startsWith('file:') ? key : (own ?? uri);
          const edited = (answer as { textDocument?: { uri: string } }).textDocument?.uri;
          return [
            key.startsWith('file:') ? this.plain(key, '') : key,
            this.plain(value, key === 'edits' && edited ? edited : about),
          ];
        }),
    );
  }

  #offset(position: Position, uri: string): string {
    const path = Object.keys(FILES).find((one) => this.session.uri(one) === uri);
    return path === undefined
      ? `${JSON.stringify(position)} of ${uri}`
      : `@${offsetOf(this.texts[path] ?? '', position, this.encoding)}`;
  }

  /** As an editor does: one notification with a change for each, each counted in what the one before left. */
  async edit(path: Path, changes: readonly { from: number; to: number; text: string }[]): Promise<void> {
    const contentChanges = changes.map(({ from, to, text }) => {
      const range = { start: this.at(path, from), end: this.at(path, to) };
      const before = this.texts[path] ?? '';
      this.texts[path] = before.slice(0, from) + text + before.slice(to);
      return { range, text };
    });
    this.#version += 1;
    await this.session.connection.sendNotification(DidChangeTextDocumentNotification.type, {
      textDocument: { uri: this.session.uri(path), version: this.#version },
      contentChanges,
    });
  }

  /** Coloured pieces, with their places in UTF-16 units. */
  async tokens(path: Path): Promise<unknown> {
    const textDocument = { uri: this.session.uri(path) };
    const { data } = (await this.session.connection.sendRequest('textDocument/semanticTokens/full', {
      textDocument,
    })) as { data: number[] };
    const text = this.texts[path] ?? '';
    const pieces: string[] = [];
    let [line, character] = [0, 0];
    for (let index = 0; index < data.length; index += 5) {
      const [lines = 0, characters = 0, length = 0, type = 0] = data.slice(index, index + 4);
      character = lines === 0 ? character + characters : characters;
      line += lines;
      const [from, to] = [character, character + length].map((one) =>
        offsetOf(text, { line, character: one }, this.encoding),
      );
      pieces.push(`${from} ${text.slice(from, to)} ${type}`);
    }
    return pieces;
  }
}

const ENCODINGS = ['utf-16', 'utf-8', 'utf-32'] as const;
const clients = {} as Record<Encoding, Client>;

beforeAll(async () => {
  for (const encoding of ENCODINGS) clients[encoding] = await Client.start(encoding);
});
afterAll(() => Promise.all(ENCODINGS.map((encoding) => clients[encoding].session.stop())));

/** What UTF-16 answers, which the others have to answer as well. */
async function sameFor(ask: (client: Client) => Promise<unknown>): Promise<unknown> {
  const [expected, ...others] = await Promise.all(ENCODINGS.map((encoding) => ask(clients[encoding])));
  for (const other of others) expect(other).toEqual(expected);
  return expected;
}

const AT = [
  'textDocument/hover',
  'textDocument/completion',
  'textDocument/definition',
  'textDocument/typeDefinition',
  'textDocument/implementation',
  'textDocument/documentHighlight',
  'textDocument/prepareRename',
  'textDocument/prepareCallHierarchy',
  'textDocument/prepareTypeHierarchy',
  'textDocument/signatureHelp',
];
const OF_FILE = [
  'textDocument/documentSymbol',
  'textDocument/foldingRange',
  'textDocument/codeLens',
  'textDocument/documentLink',
  'textDocument/diagnostic',
];
/** Every place at which something is named, and the characters around it. */
const PLACES = [
  'Größe_1506 with',
  'P3022x3  //',
  'Board32.vidéo',
  'vidéo  //',
  'Größe  require',
  'hover_time',
  'thrust_to',
  'Strep',
  'because',
  'solder',
].map((piece) => BUILD.indexOf(piece) + 2);

test('a lens that is completed leads to the name that it is above', async () => {
  const session = await Session.start({
    capabilities: { general: { positionEncodings: ['utf-8'] } },
    initializationOptions: { commands: ['fettle.showUses'] },
  });
  await session.open('bau.fettle', 'item Größe { mass: 1 g } item Strap { mass: 2 g }\nbuild B { item: Strap }\n');
  const [, lens] = await session.lensesOf('bau.fettle');
  expect(lens?.range.start).toEqual({ line: 0, character: 32 });
  expect(lens?.command?.arguments).toEqual([{ uri: session.uri('bau.fettle'), position: lens?.range.start }]);
  await session.stop();
});

describe('the same answers, whatever is counted', () => {
  test('each client is sent what is counted', () => {
    for (const encoding of ENCODINGS)
      expect(clients[encoding].session.initializeResult.capabilities.positionEncoding).toBe(encoding);
  });

  test('findings that are pushed', async () => {
    const pushed = await sameFor(async (client) =>
      client.plain(await client.session.diagnosticsOf('bau.fettle', 1), client.session.uri('bau.fettle')),
    );
    const at = BUILD.indexOf('Strep');
    expect(pushed).toContainEqual(
      expect.objectContaining({ code: 'unknown-name', range: { start: `@${at}`, end: `@${at + 5}` } }),
    );
  });

  test.each(AT)('%s', async (method) => {
    const answers = [];
    for (const offset of PLACES)
      answers.push(
        await sameFor((client) =>
          client.ask(method, {
            textDocument: { uri: client.session.uri('bau.fettle') },
            position: client.at('bau.fettle', offset),
          }),
        ),
      );
    expect(answers.filter((answer) => answer !== null).length, 'answers').toBeGreaterThan(0);
  });

  test.each(OF_FILE)('%s', async (method) => {
    for (const path of ['bau.fettle', 'teile.fettle'])
      expect(
        await sameFor((client) => client.ask(method, { textDocument: { uri: client.session.uri(path) } })),
      ).not.toBeNull();
  });

  test('references, rename and implementations in other files', async () => {
    const at = (client: Client) => ({
      textDocument: { uri: client.session.uri('bau.fettle') },
      position: client.at('bau.fettle', BUILD.indexOf('Größe_1506 with') + 3),
    });
    const references = await sameFor((client) =>
      client.ask('textDocument/references', { ...at(client), context: { includeDeclaration: true } }),
    );
    const like = PARTS.indexOf('Größe_1506 {');
    expect(references).toContainEqual({
      uri: expect.stringContaining('teile.fettle'),
      range: { start: `@${like}`, end: `@${like + 10}` },
    });
    const edit = await sameFor((client) => client.ask('textDocument/rename', { ...at(client), newName: 'Öhm' }));
    expect(JSON.stringify(edit)).toContain(`@${like}`);
  });

  test('actions, formatting, hints and selections over a range', async () => {
    const range = (client: Client) => ({
      start: client.at('bau.fettle', BUILD.indexOf('item: Strep') + 6),
      end: client.at('bau.fettle', BUILD.indexOf('Strep') + 5),
    });
    const textDocument = (client: Client) => ({ uri: client.session.uri('bau.fettle') });
    const actions = await sameFor((client) =>
      client.ask('textDocument/codeAction', {
        textDocument: textDocument(client),
        range: range(client),
        context: { diagnostics: [] },
      }),
    );
    expect(JSON.stringify(actions)).toMatch(/accept|Strep|Change/);
    const refactorings = await sameFor((client) =>
      client.ask('textDocument/codeAction', {
        textDocument: { uri: client.session.uri('teile.fettle') },
        range: {
          start: client.at('teile.fettle', PARTS.indexOf('Größe_ohm') + 1),
          end: client.at('teile.fettle', PARTS.indexOf('Größe_ohm') + 1),
        },
        context: { diagnostics: [], only: ['refactor'] },
      }),
    );
    expect(JSON.stringify(refactorings)).toContain('Inline Größe_1506 into Größe_ohm');
    const options = { tabSize: 2, insertSpaces: true };
    expect(
      await sameFor((client) => client.ask('textDocument/formatting', { textDocument: textDocument(client), options })),
    ).not.toEqual([]);
    const all = (client: Client) => ({ start: client.at('bau.fettle', 0), end: client.at('bau.fettle', BUILD.length) });
    await sameFor((client) =>
      client.ask('textDocument/inlayHint', { textDocument: textDocument(client), range: all(client) }),
    );
    await sameFor((client) =>
      client.ask('textDocument/selectionRange', {
        textDocument: textDocument(client),
        positions: PLACES.map((offset) => client.at('bau.fettle', offset)),
      }),
    );
    await sameFor((client) => client.ask('workspace/symbol', { query: '' }));
    await sameFor((client) => client.ask('fettle/builds', {}));
  });

  test('hierarchies are walked with items as they were given', async () => {
    const walked = await sameFor(async (client) => {
      const uri = client.session.uri('teile.fettle');
      const position = client.at('teile.fettle', PARTS.indexOf('Größe_1506') + 1);
      const [item] = (await client.session.connection.sendRequest('textDocument/prepareCallHierarchy', {
        textDocument: { uri },
        position,
      })) as object[];
      const incoming = await client.ask('callHierarchy/incomingCalls', { item });
      const [build] = (await client.session.connection.sendRequest('callHierarchy/incomingCalls', { item })) as {
        from: { name: string };
      }[];
      return [
        incoming,
        await client.ask('callHierarchy/outgoingCalls', { item: build?.from }),
        await client.ask('typeHierarchy/subtypes', { item }),
      ];
    });
    expect(JSON.stringify(walked)).toContain('Größe_ohm');
  });

  test('colours are at the same characters', async () => {
    const pieces = await sameFor((client) => client.tokens('bau.fettle'));
    expect(pieces).toContainEqual(expect.stringMatching(/ vidéo \d+$/));
    expect(pieces).toContainEqual(expect.stringMatching(/ "🏰 up and ↓" \d+$/));
  });

  test('edits behind such characters, several at once, reach the same text', async () => {
    const random = (() => {
      let state = 20261129;
      return (below: number) => {
        state = (Math.imul(state, 1103515245) + 12345) >>> 0;
        return (state >>> 8) % below;
      };
    })();
    for (let step = 0; step < cases(8, 25); step++) {
      // At whole characters of the text as each change leaves it.
      const plan: { from: number; to: number; text: string }[] = [];
      let text = clients['utf-16'].texts['bau.fettle'] ?? '';
      for (let count = 0; count <= random(3); count++) {
        const characters = [...text];
        const from = random(characters.length);
        const to = Math.min(characters.length, from + random(4));
        const change = {
          from: characters.slice(0, from).join('').length,
          to: characters.slice(0, to).join('').length,
          text: ['🦇', 'µ', ' ', 'é', '', '}', '“'][random(7)] ?? '',
        };
        plan.push(change);
        text = text.slice(0, change.from) + change.text + text.slice(change.to);
      }
      for (const encoding of ENCODINGS) await clients[encoding].edit('bau.fettle', plan);
      await sameFor((client) =>
        client.ask('textDocument/diagnostic', { textDocument: { uri: client.session.uri('bau.fettle') } }),
      );
      await sameFor((client) => client.tokens('bau.fettle'));
    }
    for (const encoding of ENCODINGS) {
      const { texts, session } = clients[encoding];
      expect(texts['bau.fettle']).toBe(clients['utf-16'].texts['bau.fettle']);
      expect(session.logged.filter((line) => line.includes('Internal error'))).toEqual([]);
    }
  });
});
