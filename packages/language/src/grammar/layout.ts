import { type AstNode, CstUtils, GrammarAST, type LeafCstNode } from 'langium';
import { CURRENCY_SIGNS, UNITS } from '../units/table.ts';
import {
  type File,
  isFile,
  isObservedNode,
  isPartNode,
  isRailNode,
  isRows,
  isUnknownNode,
  type ObservedNode,
  type PartNode,
  type RailNode,
  type Rows,
  type UnknownNode,
} from './generated/ast.ts';
import { parse } from './parse-text.ts';
import { isClosed, lineBreakOf } from './value-texts.ts';

/** A block that was written on one line stays on one line up to this width. */
const MAX_COLUMNS = 100;
const INDENT = '  ';

/**
 * Lays a file out: one thing per line, two spaces for each block, one space behind a colon, at most one blank line, signs in ASCII.
 * Nothing is reordered; comments stay where they are, those behind a line in their column; line ends (LF or CRLF) and a byte-order mark stay as they were.
 * A text that does not parse, or has a string without its closing quote, or would be read otherwise once laid out, comes back unchanged.
 * Formatting twice equals formatting once.
 */
export function format(text: string): string {
  const outcome = layOut(text);
  return 'text' in outcome ? outcome.text : text;
}

/** The same, or why the text has to stay as it is. */
export function layOut(text: string): { readonly text: string } | { readonly leftAlone: string } {
  const before = read(text);
  if (!before) return { leftAlone: 'it does not parse; fettle check reports where' };
  if (before.leaves.length === 0) return { text };
  const laidOut = print(before, text);
  const after = read(laidOut);
  // Line breaks and blanks mean something in half a line: where it would read otherwise, only its author can lay it out.
  const isSame = after && isReadAlike(before, after) && print(after, laidOut) === laidOut;
  return isSame
    ? { text: laidOut }
    : { leftAlone: 'formatting would change its meaning; fettle check reports what is wrong in it' };
}

interface Readout {
  readonly leaves: readonly LeafCstNode[];
  readonly plan: Plan;
}

/** Undefined for a text that does not parse, or has a string without its closing quote. */
function read(text: string): Readout | undefined {
  const { value: file, lexerErrors, parserErrors } = parse(text);
  if (lexerErrors.length > 0 || parserErrors.length > 0 || !isFile(file)) return undefined;
  const leaves = leavesOf(file);
  if (leaves.some((leaf) => leaf.text.startsWith('"') && !isClosed(leaf.text))) return undefined;
  return { leaves, plan: planOf(file) };
}

function print({ leaves, plan }: Readout, text: string): string {
  const mark = text.startsWith('\uFEFF') ? '\uFEFF' : '';
  return `${mark}${new Printer(plan).print(leaves).join(lineBreakOf(text))}`;
}

/** The same tokens in the same order, each filling the same place of the same sort of line. */
function isReadAlike(one: Readout, other: Readout): boolean {
  return (
    one.leaves.length === other.leaves.length &&
    one.leaves.every((leaf, index) => {
      const its = other.leaves[index];
      return its !== undefined && meaningOf(leaf, one.plan) === meaningOf(its, other.plan);
    })
  );
}

function meaningOf(leaf: LeafCstNode, plan: Plan): string {
  if (leaf.hidden) return asciiOf(leaf, plan);
  const start = plan.starts.has(leaf.offset) ? 'begins' : '';
  return `${start} ${leaf.container?.astNode.$type} ${featureOf(leaf)} ${asciiOf(leaf, plan)}`;
}

// ---- the plan: where lines begin, which blocks stay on one line, how wide cells are

interface Plan {
  /** Where statements begin. All plans are by the offsets of tokens. */
  starts: Set<number>;
  /** Tokens that stay on the line of the token before: all but the first of a block on one line. */
  inline: Set<number>;
  /** Tokens of lines that nobody understands: they stay as they are. */
  verbatim: Set<number>;
  /** The same without the first of a line: they keep the blanks before them. */
  asWritten: Set<number>;
  /** The blanks before the cells of a table. */
  padding: Map<number, string>;
}

function planOf(file: File): Plan {
  const plan: Plan = {
    starts: new Set(),
    inline: new Set(),
    verbatim: new Set(),
    asWritten: new Set(),
    padding: new Map(),
  };
  const first = tokensOf(file)[0];
  if (first) plan.starts.add(first.offset);
  const statements = [...file.uses, ...file.parts, ...file.unknowns];
  for (const statement of statements) addStarts(statement, plan);
  for (const statement of statements) addInline(statement, 0, plan);
  return plan;
}

/** Without comments. */
function tokensOf(node: AstNode): LeafCstNode[] {
  return leavesOf(node).filter((leaf) => !leaf.hidden);
}

function leavesOf(node: AstNode): LeafCstNode[] {
  return node.$cstNode ? CstUtils.flattenCst(node.$cstNode).toArray() : [];
}

function addStarts(statement: AstNode, plan: Plan): void {
  if (statement.$cstNode) plan.starts.add(statement.$cstNode.offset);
  if (isUnknownNode(statement)) addAsWritten(tokensOf(statement), plan);
  if (isRows(statement)) addPadding(statement, plan);
  for (const inner of statementsIn(statement)) addStarts(inner, plan);
}

function statementsIn(statement: AstNode): AstNode[] {
  if (isRows(statement)) return statement.rows;
  return hasLines(statement) ? statement.lines : [];
}

function hasLines(node: AstNode): node is PartNode | RailNode | ObservedNode | UnknownNode {
  return isPartNode(node) || isRailNode(node) || isObservedNode(node) || isUnknownNode(node);
}

function addAsWritten(tokens: readonly LeafCstNode[], plan: Plan): void {
  for (const [index, token] of tokens.entries()) {
    if (token.text === '{') return;
    plan.verbatim.add(token.offset);
    if (index > 0) plan.asWritten.add(token.offset);
  }
}

/** Numbers of a table are aligned right. */
function addPadding(table: Rows, plan: Plan): void {
  const rows = table.rows.map((row) => cellsOf(row, plan));
  const widths: number[] = [];
  for (const row of rows) {
    row.forEach((cell, column) => {
      widths[column] = Math.max(widths[column] ?? 0, cell.width);
    });
  }
  for (const row of rows) {
    row.forEach((cell, column) => {
      plan.padding.set(cell.offset, ' '.repeat((widths[column] ?? 0) - cell.width));
    });
  }
}

function cellsOf(row: AstNode, plan: Plan): { offset: number; width: number }[] {
  const cells: { offset: number; width: number }[] = [];
  let previous: LeafCstNode | undefined;
  for (const token of tokensOf(row)) {
    const text = asciiOf(token, plan);
    const cell = cells.at(-1);
    if (text !== ',' && (!previous || previous.text === ',')) cells.push({ offset: token.offset, width: text.length });
    else if (text !== ',' && cell && previous) cell.width += blanks(previous, token).length + text.length;
    previous = token;
  }
  return cells;
}

function addInline(statement: AstNode, depth: number, plan: Plan): void {
  if (staysOnOneLine(statement, depth, plan)) {
    for (const token of tokensOf(statement).slice(1)) plan.inline.add(token.offset);
  } else {
    for (const inner of statementsIn(statement)) addInline(inner, depth + 1, plan);
  }
}

function staysOnOneLine(statement: AstNode, depth: number, plan: Plan): boolean {
  const range = statement.$cstNode?.range;
  if (range?.start.line !== range?.end.line || !hasLines(statement) || !statement.block || holdsTable(statement)) {
    return false;
  }
  return depth * INDENT.length + onOneLine(leavesOf(statement), plan).length <= MAX_COLUMNS;
}

function holdsTable(node: AstNode): boolean {
  return statementsIn(node).some((inner) => (isRows(inner) && inner.block) || holdsTable(inner));
}

function onOneLine(leaves: readonly LeafCstNode[], plan: Plan): string {
  return leaves
    .map((leaf, index) => {
      const previous = leaves[index - 1];
      return (previous ? inlineGap(previous, leaf, plan) : '') + asciiOf(leaf, plan);
    })
    .join('');
}

/** Within a block on one line, two blanks come between its statements. */
function inlineGap(previous: LeafCstNode, leaf: LeafCstNode, plan: Plan): string {
  if (previous.text === '{' && leaf.text === '}') return '';
  if (previous.text === '{' || leaf.text === '}') return ' ';
  if (plan.starts.has(leaf.offset)) return INDENT;
  return gap(previous, leaf, plan);
}

// ---- printing

interface PrintedLine {
  code: string;
  comment?: Behind;
}

/** A comment behind a line. */
interface Behind {
  readonly text: string;
  /** Where it was written; undefined where its line began elsewhere. */
  readonly column: number | undefined;
}

class Printer {
  readonly #plan: Plan;
  readonly #lines: PrintedLine[] = [];
  #line: PrintedLine = { code: '' };
  #first: LeafCstNode | undefined;
  #depth = 0;

  constructor(plan: Plan) {
    this.#plan = plan;
  }

  print(leaves: readonly LeafCstNode[]): string[] {
    let previous: LeafCstNode | undefined;
    for (const leaf of leaves) {
      this.#add(leaf, previous);
      previous = leaf;
    }
    return [...withComments([...this.#lines, this.#line]), ''];
  }

  #add(leaf: LeafCstNode, previous: LeafCstNode | undefined): void {
    const inline = this.#plan.inline.has(leaf.offset);
    if (leaf.text === '}' && !inline) this.#depth -= 1;
    if (previous && leaf.hidden && leaf.range.start.line === previous.range.end.line) {
      const isOfLine = this.#first?.range.start.line === leaf.range.start.line && startsItsLine(this.#first);
      this.#line.comment = { text: asciiOf(leaf, this.#plan), column: isOfLine ? columnOf(leaf) : undefined };
      return;
    }
    if (previous) this.#separate(leaf, previous, inline);
    this.#first ??= leaf;
    this.#line.code += (this.#plan.padding.get(leaf.offset) ?? '') + asciiOf(leaf, this.#plan);
    if (leaf.text === '{' && !inline) this.#depth += 1;
  }

  #separate(leaf: LeafCstNode, previous: LeafCstNode, inline: boolean): void {
    const startsLine = this.#plan.starts.has(leaf.offset) || leaf.text === '}';
    if (inline) {
      this.#line.code += inlineGap(previous, leaf, this.#plan);
    } else if (leaf.hidden || startsLine) {
      this.#breakLine(leaf, previous, this.#depth);
    } else if (previous.hidden) {
      // A comment within a statement: the statement goes on below it.
      this.#breakLine(leaf, previous, this.#depth + 1);
    } else {
      this.#line.code += gap(previous, leaf, this.#plan);
    }
  }

  #breakLine(leaf: LeafCstNode, previous: LeafCstNode, depth: number): void {
    this.#lines.push(this.#line);
    const blankLines = leaf.range.start.line - previous.range.end.line - 1;
    if (blankLines > 0 && previous.text !== '{' && leaf.text !== '}') this.#lines.push({ code: '' });
    this.#line = { code: INDENT.repeat(depth) };
    this.#first = undefined;
  }
}

const columnOf = (leaf: LeafCstNode): number => leaf.offset - lineStartOf(leaf);

const startsItsLine = (leaf: LeafCstNode): boolean =>
  leaf.root.fullText.slice(lineStartOf(leaf), leaf.offset).trim() === '';

const lineStartOf = ({ root, offset }: LeafCstNode): number =>
  offset === 0
    ? 0
    : Math.max(root.fullText.lastIndexOf('\n', offset - 1), root.fullText.lastIndexOf('\r', offset - 1)) + 1;

/** Comments behind lines keep the column that they were written in; those that are below one another move together where a line reaches it. */
function withComments(lines: readonly PrintedLine[]): string[] {
  const printed: string[] = [];
  let index = 0;
  while (index < lines.length) {
    const end = endOfAligned(lines, index);
    const aligned = lines.slice(index, end);
    const column = Math.max(
      aligned[0]?.comment?.column ?? 0,
      ...aligned.map(({ code }) => code.trimEnd().length + INDENT.length),
    );
    for (const { code, comment } of aligned) {
      printed.push(comment ? code.trimEnd().padEnd(column) + comment.text : code.trimEnd());
    }
    index = end;
  }
  return printed;
}

/** Behind the last of the lines from here on whose comments are in one column. */
function endOfAligned(lines: readonly PrintedLine[], start: number): number {
  const column = lines[start]?.comment?.column;
  let end = start + 1;
  while (column !== undefined && lines[end]?.comment?.column === column) end += 1;
  return end;
}

// ---- between two tokens of one statement

function gap(previous: LeafCstNode, leaf: LeafCstNode, plan: Plan): string {
  if (!plan.asWritten.has(leaf.offset)) return blanks(previous, leaf);
  return previous.end === leaf.offset ? '' : ' ';
}

/** Units that are attached to their number: `2S`, `3S2P`, `75C`. */
const TIGHT_UNITS: ReadonlySet<string> = new Set(['S', 'P', 'C']);
const TIGHT_BEFORE: ReadonlySet<string> = new Set([':', ',', '.', ')']);
const TIGHT_AFTER: ReadonlySet<string> = new Set(['.', '(']);

function blanks(previous: LeafCstNode, leaf: LeafCstNode): string {
  if (TIGHT_BEFORE.has(leaf.text) || TIGHT_AFTER.has(previous.text)) return '';
  if (featureOf(leaf) === 'call' || featureOf(previous) === 'negative') return '';
  if (featureOf(leaf) === 'unit' && TIGHT_UNITS.has(leaf.text)) return '';
  // 3S2P
  if (featureOf(previous) === 'unit' && previous.text === 'S' && nextUnit(leaf) === 'P') return '';
  return ' ';
}

function nextUnit(leaf: LeafCstNode): string | undefined {
  const node = leaf.container?.astNode;
  return node && 'unit' in node && featureOf(leaf) === 'number' ? String(node.unit) : undefined;
}

/** The property that a token fills. */
function featureOf(leaf: LeafCstNode): string | undefined {
  const source = leaf.grammarSource;
  return GrammarAST.isAssignment(source?.$container) ? source.$container.feature : undefined;
}

// ---- signs

/** A keyword in the way the grammar writes it (`×` is x, `≤` is <=), units in letters, the rest as it is; so does a line that nobody understands. */
function asciiOf(leaf: LeafCstNode, plan: Plan): string {
  if (leaf.hidden) return leaf.text.trimEnd();
  if (plan.verbatim.has(leaf.offset)) return leaf.text;
  if (GrammarAST.isKeyword(leaf.grammarSource)) return leaf.grammarSource.value;
  const feature = featureOf(leaf);
  if (feature === 'times') return 'x';
  return feature === 'unit' ? asciiUnit(leaf.text) : leaf.text;
}

function asciiUnit(unit: string): string {
  return UNIT_SIGNS.reduce((text, [sign, letters]) => text.replaceAll(sign, letters), unit);
}

/** A single character that is not on every keyboard. */
function isOneSign(text: string): boolean {
  return text.length === 1 && text > '\x7f';
}

const UNIT_SIGNS: readonly (readonly [sign: string, letters: string])[] = [
  // The micro sign and mu; the ohm sign, which looks like omega.
  ['\u00b5', 'u'],
  ['\u03bc', 'u'],
  ['\u2126', 'ohm'],
  ['²', '^2'],
  ['³', '^3'],
  ['·', '*'],
  ...UNITS.flatMap(({ name, aliases = [] }) => aliases.filter(isOneSign).map((sign) => [sign, name] as const)),
  ...Object.entries(CURRENCY_SIGNS).filter(([sign]) => isOneSign(sign)),
];
