/**
 * For a client that requested UTF-8 bytes or whole characters (UTF-32), every position is converted on receipt and before it is sent, by the
 * text to which it belongs.
 */
import { TextDocument, URI, UriUtils } from 'langium';
import type { Connection } from 'vscode-languageserver';
import { Position } from 'vscode-languageserver-protocol';
import { membersOf } from '../../units/lookup-table.ts';
import { type AnyHandler, aroundHandlers } from './around-handlers.ts';
import type { EngineServices } from './editor-services.ts';
import { textAsRequested } from './overtaken-answers.ts';
import type { PositionUnits } from './position-units.ts';

type Direction = 'in' | 'out';
// biome-ignore lint/suspicious/noExplicitAny: messages of every sort
type Anything = any;

class Converter {
  readonly #services: () => EngineServices;
  /** What an answer that is to be converted is about. */
  readonly #requested: TextDocument | undefined;

  constructor(services: () => EngineServices, requested?: TextDocument) {
    this.#services = services;
    this.#requested = requested;
  }

  /** For the answer to a request that comes in now. */
  answering(uri: string | undefined): Converter {
    return uri === undefined ? this : new Converter(this.#services, textAsRequested(uri, this.#services().workspace));
  }

  get units(): PositionUnits {
    return this.#services().lsp.PositionUnits;
  }

  /** The same message with its positions in the other count. @param uri of the text that positions without one of their own are in */
  converted(message: Anything, direction: Direction, uri: string | undefined): Anything {
    if (Array.isArray(message)) return message.map((one) => this.converted(one, direction, uri));
    if (typeof message !== 'object' || message === null) return message;
    if (Position.is(message)) {
      const { uri: own } = membersOf(message);
      return { ...message, character: this.#character(message, direction, typeof own === 'string' ? own : uri) };
    }
    const own = uriOf(message) ?? uri;
    return Object.fromEntries(
      Object.entries(message).map(([key, value]) => [key, this.converted(value, direction, uriFor(key, message, own))]),
    );
  }

  #character(position: Position, direction: Direction, uri: string | undefined): number {
    const text = uri === undefined ? undefined : this.#textOf(uri, direction);
    return text === undefined ? position.character : this.#characterIn(text, position, direction);
  }

  #characterIn(text: TextDocument, { line, character }: Position, direction: Direction): number {
    const row = text.getText({ start: { line, character: 0 }, end: { line: line + 1, character: 0 } });
    const content = row.replace(/[\r\n]+$/, '');
    return direction === 'in' ? this.units.upTo(content, character) : this.units.in(content.slice(0, character));
  }

  /** What comes in is about what the client has; what goes out about what was requested, or else about what was read. */
  #textOf(uri: string, direction: Direction): TextDocument | undefined {
    const { TextDocuments, LangiumDocuments } = this.#services().workspace;
    const open = TextDocuments.get(uri);
    const read = LangiumDocuments.getDocument(URI.parse(uri))?.textDocument;
    if (direction === 'in') return open ?? read;
    return this.#requested && UriUtils.equals(this.#requested.uri, uri) ? this.#requested : (read ?? open);
  }

  /** Each change of an edit refers to the text after the change before it. */
  edited(params: Anything): Anything {
    const { uri } = params.textDocument;
    const open = this.#services().workspace.TextDocuments.get(uri);
    if (open === undefined) return params;
    let text = TextDocument.create(uri, open.languageId, open.version, open.getText());
    const contentChanges = params.contentChanges.map((change: Anything) => {
      const at = (position: Position) => ({ ...position, character: this.#characterIn(text, position, 'in') });
      const own = change.range
        ? { ...change, range: { start: at(change.range.start), end: at(change.range.end) } }
        : change;
      text = TextDocument.update(text, [own], open.version);
      return own;
    });
    return { ...params, contentChanges };
  }
}

/** The text to which the positions in a message refer, where it names one; an item that is to be completed names it in its data. */
function uriOf(message: Anything): string | undefined {
  const uri = message.uri ?? message.textDocument?.uri ?? (message.item ?? message.from ?? message.data)?.uri;
  return typeof uri === 'string' ? uri : undefined;
}

/** The keys of edits by file, and of reports on related files, are addresses; a link has its target elsewhere. */
function uriFor(key: string, message: Anything, uri: string | undefined): string | undefined {
  if (/^target(?:Selection)?Range$/.test(key)) return message.targetUri;
  return /^[a-z][\w+.-]*:/.test(key) ? key : uri;
}

/** The connection as the server sees it, with positions in UTF-16 units both ways. */
export function inOurUnits(connection: Connection, services: () => EngineServices): Connection {
  const converter = new Converter(services);
  return aroundHandlers(connection, {
    handler: (handler, name) => withHandler(handler, name, converter),
    sent: (given) => sent(given, converter),
  });
}

/** The parameters of a handler, its result and its progress. */
function withHandler(handler: AnyHandler, name: string, converter: Converter): AnyHandler {
  return (params: Anything, ...rest: Anything[]) => {
    if (converter.units.areOurs) return handler(params, ...rest);
    const uri = params && uriOf(params);
    const answering = converter.answering(uri);
    const own = name === 'onDidChangeTextDocument' ? converter.edited(params) : converter.converted(params, 'in', uri);
    const out = (answer: Anything): Anything =>
      answer instanceof Error ? answer : answering.converted(answer, 'out', uri);
    const answer = handler(own, ...rest.map((one) => reportingIn(one, out)));
    return answer instanceof Promise ? answer.then(out) : out(answer);
  };
}

/** Part of an answer is sent before the rest. */
const reportingIn = (one: Anything, out: (part: Anything) => Anything): Anything =>
  typeof one?.report === 'function' && !('begin' in one) ? { report: (part: Anything) => one.report(out(part)) } : one;

/** Addresses, methods and tokens have no positions; types of requests are no plain objects. */
function sent(params: Anything, converter: Converter): Anything {
  const isPlain = typeof params === 'object' && params !== null && Object.getPrototypeOf(params) === Object.prototype;
  return isPlain && !converter.units.areOurs ? converter.converted(params, 'out', uriOf(params)) : params;
}
