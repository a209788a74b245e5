import type { AstNode, LeafCstNode } from 'langium';
import { CstUtils, GrammarAST } from 'langium';
import type { File, Observed, Part, Rail, Rows, Unknown } from './generated/ast.ts';
import { isFile, isObserved, isPart, isRail, isRows, isUnknown } from './generated/ast.ts';
import { parse } from './parse.ts';
import { isClosed, lineBreakOf } from './values.ts';

/** A block that was written on one line stays on one line up to this width. */
const MAX_COLUMNS = 100;
const INDENT = '  ';

/**
 * Lays a file out: one thing a line, two spaces for each block, one space behind a colon, at most one blank line, signs in ASCII.
 * Nothing is reordered; comments stay where they are; line ends (LF or CRLF) and a byte-order mark stay as they were.
 * A text that does not parse, or has a string without its closing quote, comes back unchanged. Formatting twice equals formatting once.
 */
export const format = (text: string): string => laidOut(text) ?? text;

/** The same, or undefined where the text has to stay as it is. */
export function laidOut(text: string): string | undefined {
  const { value: file, lexerErrors, parserErrors } = parse(text);
  if (lexerErrors.length > 0 || parserErrors.length > 0 || !isFile(file)) return undefined;
  const leaves = leavesOf(file);
  if (leaves.length === 0) return text;
  if (leaves.some((leaf) => leaf.text.startsWith('"') && !isClosed(leaf.text))) return undefined;
  const lines = new Printer(planOf(file)).print(leaves);
  const mark = text.startsWith('\uFEFF') ? '\uFEFF' : '';
  return `${mark}${lines.join(lineBreakOf(text))}`;
}

// ---- the plan: where lines begin, which blocks stay on one line, how wide cells are

interface Plan {
  /** Where statements begin. All plans are by the offsets of tokens. */
  starts: Set<number>;
  /** Tokens that stay on the line of the token before: all but the first of a block on one line. */
  inline: Set<number>;
  /** Tokens of lines that nobody understands: they keep the blanks before them. */
  asWritten: Set<number>;
  /** The blanks before the cells of a table. */
  padding: Map<number, string>;
}

function planOf(file: File): Plan {
  const plan: Plan = { starts: new Set(), inline: new Set(), asWritten: new Set(), padding: new Map() };
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
  if (isUnknown(statement)) addAsWritten(tokensOf(statement), plan);
  if (isRows(statement)) addPadding(statement, plan);
  for (const inner of statementsIn(statement)) addStarts(inner, plan);
}

function statementsIn(statement: AstNode): AstNode[] {
  if (isRows(statement)) return statement.rows;
  return hasLines(statement) ? statement.lines : [];
}

function hasLines(node: AstNode): node is Part | Rail | Observed | Unknown {
  return isPart(node) || isRail(node) || isObserved(node) || isUnknown(node);
}

function addAsWritten(tokens: readonly LeafCstNode[], plan: Plan): void {
  for (const token of tokens.slice(1)) {
    if (token.text === '{') return;
    plan.asWritten.add(token.offset);
  }
}

/** Numbers of a table stand flush right. */
function addPadding(table: Rows, plan: Plan): void {
  const rows = table.rows.map(cellsOf);
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

function cellsOf(row: AstNode): { offset: number; width: number }[] {
  const cells: { offset: number; width: number }[] = [];
  let previous: LeafCstNode | undefined;
  for (const token of tokensOf(row)) {
    const text = asciiOf(token);
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
      return (previous ? inlineGap(previous, leaf, plan) : '') + asciiOf(leaf);
    })
    .join('');
}

/** Within a block on one line, two blanks stand between its statements. */
function inlineGap(previous: LeafCstNode, leaf: LeafCstNode, plan: Plan): string {
  if (previous.text === '{' && leaf.text === '}') return '';
  if (previous.text === '{' || leaf.text === '}') return ' ';
  if (plan.starts.has(leaf.offset)) return INDENT;
  return gap(previous, leaf, plan);
}

// ---- printing

class Printer {
  private readonly plan: Plan;
  private readonly lines: string[] = [];
  private line = '';
  private depth = 0;

  constructor(plan: Plan) {
    this.plan = plan;
  }

  print(leaves: readonly LeafCstNode[]): string[] {
    let previous: LeafCstNode | undefined;
    for (const leaf of leaves) {
      this.add(leaf, previous);
      previous = leaf;
    }
    return [...this.lines, this.line.trimEnd(), ''];
  }

  private add(leaf: LeafCstNode, previous: LeafCstNode | undefined): void {
    const inline = this.plan.inline.has(leaf.offset);
    if (leaf.text === '}' && !inline) this.depth -= 1;
    if (previous) this.separate(leaf, previous, inline);
    this.line += (this.plan.padding.get(leaf.offset) ?? '') + asciiOf(leaf);
    if (leaf.text === '{' && !inline) this.depth += 1;
  }

  private separate(leaf: LeafCstNode, previous: LeafCstNode, inline: boolean): void {
    const startsLine = this.plan.starts.has(leaf.offset) || leaf.text === '}';
    if (leaf.hidden && leaf.range.start.line === previous.range.end.line) {
      this.line += INDENT;
    } else if (inline) {
      this.line += inlineGap(previous, leaf, this.plan);
    } else if (leaf.hidden || startsLine) {
      this.breakLine(leaf, previous, this.depth);
    } else if (previous.hidden) {
      // A comment within a statement: the statement goes on below it.
      this.breakLine(leaf, previous, this.depth + 1);
    } else {
      this.line += gap(previous, leaf, this.plan);
    }
  }

  private breakLine(leaf: LeafCstNode, previous: LeafCstNode, depth: number): void {
    this.lines.push(this.line.trimEnd());
    const blankLines = leaf.range.start.line - previous.range.end.line - 1;
    if (blankLines > 0 && previous.text !== '{' && leaf.text !== '}') this.lines.push('');
    this.line = INDENT.repeat(depth);
  }
}

// ---- between two tokens of one statement

function gap(previous: LeafCstNode, leaf: LeafCstNode, plan: Plan): string {
  if (!plan.asWritten.has(leaf.offset)) return blanks(previous, leaf);
  return previous.end === leaf.offset ? '' : ' ';
}

/** Units that stand at their number: `2S`, `3S2P`, `75C`. */
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

/** A keyword in the way the grammar writes it (`×` is x, `≤` is <=), units in letters, the rest as it stands. */
function asciiOf(leaf: LeafCstNode): string {
  if (leaf.hidden) return leaf.text.trimEnd();
  if (GrammarAST.isKeyword(leaf.grammarSource)) return leaf.grammarSource.value;
  const feature = featureOf(leaf);
  if (feature === 'times') return 'x';
  return feature === 'unit' ? asciiUnit(leaf.text) : leaf.text;
}

function asciiUnit(unit: string): string {
  return UNIT_SIGNS.reduce((text, [sign, letters]) => text.replaceAll(sign, letters), unit);
}

const UNIT_SIGNS: readonly (readonly [sign: string, letters: string])[] = [
  ['°', 'deg'],
  ['µ', 'u'],
  ['μ', 'u'],
  ['Ω', 'ohm'],
  ['Ω', 'ohm'],
  ['²', '^2'],
  ['³', '^3'],
  ['·', '*'],
  ['€', 'EUR'],
  ['£', 'GBP'],
];
