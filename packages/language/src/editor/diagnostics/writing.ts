/**
 * What is reported to a person who is writing, and when. The line under the last edit is a prefix most of the time: what is wrong with it only because
 * it is one, and what is wrong elsewhere only because of it, waits until the line is left, or a pause.
 */

import { DocumentState, type LangiumDocument, URI, UriUtils } from 'langium';
import type { LangiumServices, LangiumSharedServices } from 'langium/lsp';
import type { Diagnostic, Position } from 'vscode-languageserver-types';
import { isObservedNode, isRailNode, isRows, type PartNode } from '../../grammar/generated/ast.ts';
import { placeOfFeature } from '../../syntax/source.ts';
import { membersOf } from '../../units/lookup-table.ts';
import { TEXT_FINDINGS } from '../../vocabulary/findings.ts';
import type { FettleCompletion } from '../completion/completion-provider.ts';
import { isOnTheWay } from './on-the-way.ts';
import { ReportedFindings, withoutFigures } from './reported-findings.ts';
import { type Clock, Rhythm, STAGE, type Stage } from './rhythm.ts';
import { isUnfinished } from './unfinished.ts';
import { changeBetween, isCut, isTyping, lineAround, lineAt, moveLines, partWrittenAt } from './writing-place.ts';

/** A place that a completed block leaves to be filled in: `kv:  rpm/V`, `cells: S`, `motors: 4 x  with `. */
const BLANK = /(?::|\bx|\bwith)(?: *$| {2}| S$)/;

/** Where is being written. */
interface Place {
  readonly key: string;
  /** Behind what was written last. */
  cursor: number;
  stage: Stage;
  /** Lines on which the last key removed something, or which it broke in two: another one is to follow. */
  cut: readonly number[];
  /** The line under the cursor as it was before it was edited. */
  former: string;
  /** Lines that were written since everything was reported, from 0. */
  readonly touched: Set<number>;
  /** Of the lines that came in one piece those with a place left to fill in, from 0. */
  readonly blanks: Set<number>;
  /** The first and the last line of that piece: nothing is reported between them while there are blanks, until the piece is left. */
  readonly piece: Set<number>;
  /** Where the part that is written begins; undefined between parts. */
  block: number | undefined;
  /** It lacked something when its writing began: until it is left, or complete and a pause long, it is a fragment. */
  isFragment: boolean;
  /** Something else than this text changed meanwhile: other files have findings of their own. */
  isElsewhereToo: boolean;
}

/** The cursor's line is judged by what may be completed on it. */
type CompletingServices = LangiumServices & { readonly lsp: { readonly CompletionProvider: FettleCompletion } };

export class Writing {
  readonly #services: LangiumSharedServices;
  readonly #fettle: () => CompletingServices;
  readonly #rhythm = new Rhythm();
  #isQuiet = true;
  #place: Place | undefined;
  /** Of each open text, as it was before the edit that is coming. */
  readonly #texts = new Map<string, string>();
  readonly #reported = new ReportedFindings();
  /** What was found out last about the place, and of what. */
  #needed: { readonly about: readonly unknown[]; readonly stage: Stage } = { about: [], stage: STAGE.typing };
  readonly #listeners: (() => void)[] = [];

  constructor(services: LangiumSharedServices) {
    this.#services = services;
    this.#fettle = () => services.ServiceRegistry.all[0] as CompletingServices;
    const { TextDocuments, DocumentBuilder } = services.workspace;
    services.lsp.LanguageServer.onInitialize(({ initializationOptions }) => {
      this.#isQuiet = membersOf(initializationOptions).quietWhileTyping !== false;
    });
    TextDocuments.onDidOpen(({ document }) => this.#texts.set(UriUtils.normalize(document.uri), document.getText()));
    TextDocuments.onDidChangeContent(({ document }) => this.#edited(document.uri, document.getText()));
    TextDocuments.onDidClose(({ document }) => this.#closed(UriUtils.normalize(document.uri)));
    TextDocuments.onDidSave(() => this.rest());
    DocumentBuilder.onUpdate((changed, deleted) => {
      const others = [...changed, ...deleted].some((uri) => uri.toString() !== this.#place?.key);
      if (this.#place !== undefined && others) this.#place.isElsewhereToo = true;
      for (const uri of deleted) this.#reported.delete(uri.toString());
    });
  }

  /** By another clock. */
  keepTimeBy(clock: Clock): void {
    this.#rhythm.clock = clock;
  }

  /** Called when more, or less, is shown than before without a new check. */
  onChange(listener: () => void): void {
    this.#listeners.push(listener);
  }

  // ---- what the person does ----

  #edited(uri: string, text: string): void {
    const key = UriUtils.normalize(uri);
    const before = this.#texts.get(key);
    this.#texts.set(key, text);
    const change = before === undefined ? undefined : changeBetween(before, text);
    if (!this.#isQuiet || before === undefined || change === undefined) return;
    const left = this.#place?.key === key ? undefined : this.#place;
    const same = left === undefined ? this.#place : undefined;
    const touched = same?.touched ?? new Set<number>();
    const blanks = same?.blanks ?? new Set<number>();
    const piece = same?.piece ?? new Set<number>();
    const lineBefore = lineAt(before, change.start);
    const isSameLine = same !== undefined && lineAt(before, same.cursor) === lineBefore;
    const former = isSameLine ? same.former : lineAround(before, change.start).text;
    const written = moveLines([touched, blanks, piece], before, text, change);
    this.#reported.move(key, before, text, change);
    const isWhole = !isTyping(text, change);
    const lines = text.split('\n');
    for (const line of written) {
      if (BLANK.test(lines[line] ?? '') && (isWhole || blanks.has(line))) blanks.add(line);
      else blanks.delete(line);
    }
    if (isWhole) {
      piece.clear();
      for (const line of [written[0], written.at(-1)]) piece.add(line ?? 0);
    }
    const block = this.#blockAt(key, change.start);
    const isSameBlock = same !== undefined && same.block === block;
    this.#place = {
      key,
      cursor: change.newEnd,
      stage: isWhole ? STAGE.stopped : STAGE.typing,
      cut: isCut(text, change) ? written : [],
      former: lineAt(text, change.newEnd) === lineBefore ? former : '',
      touched,
      blanks,
      piece,
      block,
      isFragment: isSameBlock ? same.isFragment : this.#wasFragment(key, block),
      isElsewhereToo: false,
    };
    if (left !== undefined) this.#notify();
    this.#rhythm.keyed((stage, pause) => {
      if (pause === 'short' && !this.#mayBeFinished()) return;
      if (stage < STAGE.rested) this.#reach(stage);
      else if (this.#place?.blanks.size === 0) this.rest();
    });
  }

  /** The cursor was seen somewhere: behind another line there is nothing to wait for. */
  seenAt(uri: string, { line }: Position): void {
    const place = this.#place;
    if (place === undefined) return;
    const key = UriUtils.normalize(uri);
    const text = this.#texts.get(place.key) ?? '';
    if (key === place.key && line === lineAt(text, place.cursor)) return;
    const offset = this.#services.workspace.TextDocuments.get(uri)?.offsetAt({ line, character: 0 }) ?? 0;
    const isLeft = place.blanks.size > 0 ? !isInPiece(place, line) : this.#blockAt(key, offset + 1) !== place.block;
    if (key !== place.key || isLeft) this.rest();
    else {
      place.cursor = offset;
      place.cut = [];
      place.former = '';
      this.#reach(STAGE.stopped);
    }
  }

  #closed(key: string): void {
    this.#texts.delete(key);
    if (this.#place?.key === key) this.rest();
  }

  // ---- pauses ----

  #reach(stage: Stage): void {
    if (this.#place === undefined || this.#place.stage >= stage) return;
    this.#place.stage = stage;
    this.#notify();
  }

  /** Whoever wrote has stopped, saved or gone elsewhere: everything is reported. */
  rest(): void {
    this.#rhythm.stop();
    if (this.#place === undefined) return;
    this.#place = undefined;
    this.#notify();
  }

  #notify(): void {
    for (const listener of this.#listeners) listener();
  }

  // ---- what is reported ----

  /** Of the findings of a file those that are reported now. */
  shown(document: LangiumDocument): Diagnostic[] {
    const all = document.diagnostics ?? [];
    const key = document.uri.toString();
    const place = this.#place;
    if (place === undefined) return this.#reported.set(key, all);
    if (place.key === key) return this.#reported.set(key, this.#shownWhereWritten(document, place, all));
    const source = this.#documentOf(place.key);
    const isHeld = !place.isElsewhereToo && (source === undefined || this.#isHeld(source, place));
    // What was there before the edit is there still, until it is known what the edit will be.
    return isHeld ? this.#reported.of(key).map(({ diagnostic }) => diagnostic) : this.#reported.set(key, all);
  }

  #shownWhereWritten(document: LangiumDocument, place: Place, all: readonly Diagnostic[]): Diagnostic[] {
    const line = lineAt(document.textDocument.getText(), place.cursor);
    const open = [...this.#reported.of(place.key)];
    const part = partWrittenAt(document, place.cursor);
    const isHeld = this.#isHeld(document, place);
    const reported = all.flatMap((diagnostic): Diagnostic[] => {
      const stated = withoutFigures(diagnostic);
      const own = diagnostic.range.start.line;
      const at = open.findIndex((one) => one.stated === stated && one.diagnostic.range.start.line === own);
      if (at >= 0) {
        const [known] = open.splice(at, 1);
        // Its figures change while the line does; they are reported anew with the rest.
        return [isHeld && known ? { ...diagnostic, message: known.diagnostic.message } : diagnostic];
      }
      if (isHeaderOf(part, diagnostic, document) || diagnostic.code === 'unused-use' || isInPiece(place, own))
        return [];
      if (own === line && isUnfinished(document, place.cursor, diagnostic, this.#prefixes)) return [];
      if (!isHeld) return [diagnostic];
      if (place.cut.includes(own)) return [];
      const isWrittenThere = isOfText(diagnostic) && place.touched.has(own);
      return isWrittenThere && (own !== line || place.stage > STAGE.typing) ? [diagnostic] : [];
    });
    if (!isHeld) return reported;
    const remaining = open.filter(
      ({ diagnostic }) => !isOfText(diagnostic) || !place.touched.has(diagnostic.range.start.line),
    );
    return [...reported, ...remaining.map(({ diagnostic }) => diagnostic)];
  }

  readonly #prefixes = (document: LangiumDocument, offset: number): boolean =>
    this.#fettle().lsp.CompletionProvider.isPrefix(document, offset);

  /** Of the findings on the line that is written those that may go when it goes on. */
  #unfinishedIn(document: LangiumDocument, place: Place): Diagnostic[] {
    const line = lineAt(document.textDocument.getText(), place.cursor);
    return (document.diagnostics ?? []).filter(
      (one) => one.range.start.line === line && isUnfinished(document, place.cursor, one, this.#prefixes),
    );
  }

  /** What follows from what is written there is not reported yet. Thousands of files depend on the answer: it is found once. */
  #isHeld(document: LangiumDocument, place: Place): boolean {
    const { diagnostics, textDocument } = document;
    const about = [place, place.cursor, diagnostics, textDocument.version];
    if (!about.every((one, index) => one === this.#needed.about[index]))
      this.#needed = { about, stage: this.#neededAt(document, place) };
    return place.stage < this.#needed.stage;
  }

  /** How long no key has to come before that is reported. */
  #neededAt(document: LangiumDocument, place: Place): Stage {
    const { former, cursor } = place;
    const isCut = place.cut.length > 0;
    if (this.#isFragmentAt(document, place, partWrittenAt(document, cursor))) return STAGE.rested;
    // Between two lines both are left.
    if (lineAround(document.textDocument.getText(), cursor).text.trim() === '' && !isCut) return STAGE.typing;
    if (this.#unfinishedIn(document, place).length > 0) return STAGE.rested;
    const { Lexer } = this.#fettle().parser;
    const isOpen = isCut || isOnTheWay(document, cursor, former, Lexer, this.#prefixes);
    return isOpen ? STAGE.stopped : STAGE.still;
  }

  #isFragmentAt(document: LangiumDocument, place: Place, part: PartNode | undefined): boolean {
    if (part === undefined) return false;
    return place.isFragment || (document.diagnostics ?? []).some((one) => isHeaderOf(part, one, document));
  }

  /** Whether somebody types in a file what cannot be judged yet. */
  isBeingWritten(document: LangiumDocument): boolean {
    const place = this.#place;
    if (place?.key !== document.uri.toString()) return false;
    return place.blanks.size > 0 || this.#isHeld(document, place);
  }

  /** With a word or a number that ends as it does, the line might be meant to be as it is. */
  #mayBeFinished(): boolean {
    const place = this.#place;
    const document = place && this.#documentOf(place.key);
    if (!place || document === undefined || document.state < DocumentState.Validated) return false;
    const text = document.textDocument.getText();
    const { text: line, start } = lineAround(text, place.cursor);
    const isNumber = /\d$/.test(line.slice(0, place.cursor - start));
    return !isNumber && this.#unfinishedIn(document, place).length === 0;
  }

  #documentOf(key: string): LangiumDocument | undefined {
    return this.#services.workspace.LangiumDocuments.getDocument(URI.parse(key));
  }

  #blockAt(key: string, offset: number): number | undefined {
    const document = this.#documentOf(key);
    return document && partWrittenAt(document, offset)?.$cstNode?.offset;
  }

  /** Whether a part lacked something before it is written on: one that begins now lacks everything. */
  #wasFragment(key: string, block: number | undefined): boolean {
    const document = this.#documentOf(key);
    if (document === undefined || block === undefined) return true;
    const part = partWrittenAt(document, block + 1);
    return (document.diagnostics ?? []).some((one) => isHeaderOf(part, one, document));
  }
}

/** Whether a line is in a block that came in one piece and has places left to fill in. */
const isInPiece = ({ blanks, piece }: Place, line: number): boolean =>
  blanks.size > 0 && line >= Math.min(...piece) && line <= Math.max(...piece);

const isOfText = ({ code }: Diagnostic): boolean => Object.hasOwn(TEXT_FINDINGS, String(code));

/** About the whole of a part, or of a block in it: that it lacks lines, or its end. */
function isHeaderOf(part: PartNode | undefined, { code, range }: Diagnostic, document: LangiumDocument): boolean {
  if (part?.$cstNode === undefined || (code !== 'missing-value' && code !== 'syntax')) return false;
  const offset = document.textDocument.offsetAt(range.start);
  const inner = part.lines.filter((line) => isRailNode(line) || isObservedNode(line) || isRows(line));
  return [part, ...inner].some((block) => {
    const name = 'name' in block && block.name !== undefined ? placeOfFeature(block, 'name').start : undefined;
    return offset === block.$cstNode?.offset || offset === name;
  });
}
