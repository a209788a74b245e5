/** Moves lines of a block into a part of their own: a base that it is `like`, rules that it follows, an item on board. */
import { GrammarUtils, type LangiumDocument } from 'langium';
import { CodeActionKind } from 'vscode-languageserver-types';
import {
  isAlias,
  isChangeNode,
  isCondition,
  isFigureNode,
  isKeep,
  isPropertyNode,
  isRailNode,
  isRequire,
  type Line,
  type PartNode,
} from '../../grammar/generated/ast.ts';
import { isInline } from '../../model/inline.ts';
import { chainOf, MOST_BASES } from '../../syntax/chain.ts';
import { isUnset } from '../../syntax/clauses.ts';
import { textOf } from '../../syntax/source.ts';
import { listed, plural, upperFirst } from '../../vocabulary/phrasing.ts';
import { type PropertyName, schemaOf } from '../../vocabulary/properties.ts';
import { type BlockText, blockTextOf, type LineText, rowsAsText } from './block-text.ts';
import {
  changed,
  freeName,
  newlineOf,
  partAroundSelection,
  type Refactoring,
  type RefactoringRequest,
  type Rewriting,
} from './rewriting.ts';
import type { TextChange } from './text-change.ts';

export function extractions(asked: RefactoringRequest): Refactoring[] {
  const part = partAroundSelection(asked);
  const block = part && blockTextOf(asked.document, part);
  if (!part?.name || !block) return [];
  const chosen = selectedLines(asked, block);
  return [
    ...baseOf(asked, part, block, chosen),
    ...sharedBase(asked, part, block),
    ...rulesOf(asked, part, block, chosen),
    ...itemOf(asked, part, block),
  ];
}

/** Lines that a selection of more than a place touches. */
function selectedLines({ start, end }: RefactoringRequest, { lines }: BlockText): readonly LineText[] {
  if (start === end) return [];
  return lines.filter(({ node }) => {
    const own = node.$cstNode;
    return own !== undefined && own.offset < end && own.end > start;
  });
}

/** Lines of a build that no base gets: its packs, its mass on the scale, and what it leaves out of its own base. */
const OWN: ReadonlySet<string> = new Set<PropertyName<'build'>>(['pack', 'dry_mass', 'without', 'rules']);

function isInheritable(kind: PartNode['kind'], line: Line): boolean {
  if (kind === 'build') return isPropertyNode(line) && !OWN.has(line.key) && !isUnset(line);
  if (kind === 'rules') return isPropertyNode(line) || isRequire(line) || isKeep(line) || isChangeNode(line);
  if (kind === 'shortlist') return isPropertyNode(line) || isRequire(line);
  return (isPropertyNode(line) && !isUnset(line)) || isRailNode(line);
}

// ---- a base of one part

function baseOf(
  asked: RefactoringRequest,
  part: PartNode,
  block: BlockText,
  chosen: readonly LineText[],
): Refactoring[] {
  // The legs of a flight are one route: all of them, or none.
  const isRoute = part.kind === 'flight' && chosen.length === block.lines.length;
  const isPiece = part.kind !== 'flight' && chosen.length < block.lines.length;
  const isPossible =
    chosen.length > 0 &&
    (isRoute || isPiece) &&
    chosen.every(({ node }) => isInheritable(part.kind, node)) &&
    chainOf(part).parts.length < MOST_BASES;
  if (!isPossible) return [];
  return [
    {
      title: `Extract ${plural(chosen.length, 'line')} of ${part.name} into a base that it is like`,
      kind: CodeActionKind.RefactorExtract,
      make: () => withBase(asked, [{ part, block, lines: chosen }], freeName(asked.index, `${part.name}_Base`)),
    },
  ];
}

/** A part and the lines that it gives to a base. */
interface Giving {
  readonly part: PartNode;
  readonly block: BlockText;
  readonly lines: readonly LineText[];
}

/** The first of the parts has the lines as they are written, with their comments. */
function withBase({ document }: RefactoringRequest, giving: readonly Giving[], name: string): Rewriting {
  const text = document.textDocument.getText();
  const newline = newlineOf(document);
  const source = giving.reduce((first, one) => (one.block.from < first.block.from ? one : first));
  const { part, block, lines } = source;
  const base = part.base?.$cstNode?.text;
  const rows = lines.map((line) => rowsAsText(text, block, line, newline)).join('');
  const isShort = giving.every((one) => one.block.isOneRow);
  const body = isShort ? `{ ${lines.map(({ node }) => textOf(node)).join('  ')} }` : `{${newline}${rows}}`;
  const own = `${part.kind} ${name}${base === undefined ? '' : ` like ${base}`} ${body}${newline}${newline}`;
  const changes: TextChange[] = [{ from: block.from, to: block.from, text: own }];
  for (const one of giving) changes.push(likeChange(one.part, name), ...removal(document, one));
  return { ...changed(new Map([[document, changes]])), names: [name], named: name };
}

function likeChange(part: PartNode, name: string): TextChange {
  const base = part.base?.$cstNode;
  if (base !== undefined) return { from: base.offset, to: base.end, text: name };
  const behind =
    GrammarUtils.findNodeForProperty(part.$cstNode, 'title') ?? GrammarUtils.findNodeForProperty(part.$cstNode, 'name');
  const at = behind?.end ?? 0;
  return { from: at, to: at, text: ` like ${name}` };
}

/** Lines without their rows; a block that is left empty stays on one row. */
function removal(document: LangiumDocument, { block, lines }: Giving): TextChange[] {
  const text = document.textDocument.getText();
  const left = block.lines.filter((line) => !lines.includes(line));
  const tail = text.slice(block.last, block.close).trim();
  if (left.length === 0 && tail === '') return [{ from: block.open, to: block.close + 1, text: '{}' }];
  if (!block.isOneRow) return lines.map(({ from, to }) => ({ from, to, text: '' }));
  const rest = left.map(({ node }) => textOf(node)).join('  ');
  return [{ from: block.open, to: block.close + 1, text: `{ ${rest} }` }];
}

// ---- a base of several parts

/** Fewer are not worth a part; ours. */
const FEWEST_SHARED = 2;

/** Parts of one kind in the file that state the same lines. */
function sharedBase(asked: RefactoringRequest, part: PartNode, block: BlockText): Refactoring[] {
  const { document, index } = asked;
  if (chainOf(part).parts.length >= MOST_BASES) return [];
  const base = part.base?.$cstNode?.text;
  const own = statedIn(part, block);
  const others = document.parseResult.value.parts.flatMap((other) => {
    const otherBlock = other === part || other.kind !== part.kind ? undefined : blockTextOf(document, other);
    if (!otherBlock || !other.name || other.base?.$cstNode?.text !== base) return [];
    return [{ part: other, block: otherBlock, stated: statedIn(other, otherBlock) }];
  });
  const shared = (stated: ReadonlyMap<string, LineText>): string[] => {
    const lines = [...own.keys()].filter((line) => stated.has(line));
    const isRoute = lines.length === block.lines.length && lines.length === stated.size;
    return part.kind === 'flight' && !isRoute ? [] : lines;
  };
  const most = others.map(({ stated }) => shared(stated)).toSorted((one, other) => other.length - one.length)[0] ?? [];
  // With figures that are not exact, two parts would have one error: where a build has both, only what is exact can be shared.
  const exact = most.filter((line) => isExact(part, own.get(line)?.node));
  return [most, ...(exact.length < most.length ? [exact] : [])]
    .filter((lines) => lines.length >= FEWEST_SHARED)
    .map((lines) => {
      const heirs = others.filter(({ stated }) => lines.every((line) => stated.has(line)));
      const names = [part, ...heirs.map((heir) => heir.part)].map(({ name = '' }) => name);
      const giving = [{ part, block, stated: own }, ...heirs].map((one) => ({
        part: one.part,
        block: one.block,
        lines: lines.flatMap((line) => one.stated.get(line) ?? []),
      }));
      return {
        title: `Extract ${plural(lines.length, 'line')} that ${inWords(names)} share into a base`,
        kind: CodeActionKind.RefactorExtract,
        make: () => withBase(asked, giving, freeName(index, baseNameOf(names, part.kind))),
      };
    });
}

/** By their words. */
function statedIn(part: PartNode, block: BlockText): Map<string, LineText> {
  const stated = new Map<string, LineText>();
  for (const line of block.lines) {
    const words = textOf(line.node).replace(/\s+/g, ' ');
    const repeats = isPropertyNode(line.node) && schemaOf(part.kind).properties[line.node.key]?.repeats === true;
    const isAlone = isPropertyNode(line.node) && (!repeats || ['flight', 'shortlist'].includes(part.kind));
    if (isAlone && isInheritable(part.kind, line.node)) stated.set(words, line);
  }
  return stated;
}

const EXACT: ReadonlySet<string> = new Set([
  'word',
  'text',
  'cells',
  'count',
  'pattern',
  'size',
  'range',
  'part',
  'date',
]);

function isExact(part: PartNode, line: Line | undefined): boolean {
  if (!line || !isPropertyNode(line)) return false;
  return EXACT.has(schemaOf(part.kind).properties[line.key]?.shape ?? '') && !isInline(line);
}

const MOST_NAMES = 3;

const inWords = (names: readonly string[]): string =>
  names.length > MOST_NAMES ? `${names[0]} and ${names.length - 1} others` : listed(names);

/** What the names begin with, as far as it is a word. */
function baseNameOf(names: readonly string[], kind: string): string {
  const [first = '', ...others] = names;
  let length = 0;
  while (length < first.length && others.every((name) => name[length] === first[length])) length++;
  const common = first.slice(0, length).replace(/[\d_]+$/, '');
  const word = common.length > 1 ? common : upperFirst(kind);
  return `${word}_Base`;
}

// ---- rules

/** Lines of a build that rules may have. */
function rulesOf(
  asked: RefactoringRequest,
  part: PartNode,
  block: BlockText,
  chosen: readonly LineText[],
): Refactoring[] {
  const { document, index } = asked;
  const isRule = ({ node }: LineText): boolean =>
    isRequire(node) ||
    isKeep(node) ||
    isChangeNode(node) ||
    (isPropertyNode(node) && Object.hasOwn(schemaOf('rules').properties, node.key) && !isUnset(node));
  const follows = chainOf(part).parts.some(({ lines }) =>
    lines.some((line) => isPropertyNode(line) && line.key === 'rules'),
  );
  if (part.kind !== 'build' || chosen.length === 0 || follows || block.isOneRow || !chosen.every(isRule)) return [];
  const make = (): Rewriting => {
    const text = document.textDocument.getText();
    const newline = newlineOf(document);
    const name = freeName(index, `${part.name}_Rules`);
    const rows = chosen.map((line) => rowsAsText(text, block, line, newline)).join('');
    const changes: TextChange[] = [
      { from: block.from, to: block.from, text: `rules ${name} {${newline}${rows}}${newline}${newline}` },
      { from: block.first, to: block.first, text: `  rules: ${name}${newline}` },
      ...chosen.map(({ from, to }) => ({ from, to, text: '' })),
    ];
    return { ...changed(new Map([[document, changes]])), names: [name], named: name };
  };
  const title = `Extract ${plural(chosen.length, 'line')} of ${part.name} into rules that it follows`;
  return [{ title, kind: CodeActionKind.RefactorExtract, make }];
}

// ---- an item

/** `item: 4 g "strap"`: a part of its own, so that other builds can have it. */
function itemOf({ document, index, start, end }: RefactoringRequest, part: PartNode, block: BlockText): Refactoring[] {
  const line = block.lines.find(({ node }) => {
    const own = node.$cstNode;
    return own !== undefined && own.offset <= start && own.end >= end;
  })?.node;
  if (part.kind !== 'build' || !line || !isPropertyNode(line) || !isInline(line) || !isFigureNode(line.value))
    return [];
  const { value } = line;
  const label = value.label;
  if (!label || line.clauses.some((clause) => isAlias(clause) || (isCondition(clause) && clause.word !== 'at')))
    return [];
  const make = (): Rewriting => {
    const newline = newlineOf(document);
    const name = freeName(index, nameFrom(label));
    const written = GrammarUtils.findNodeForProperty(value.$cstNode, 'label');
    const mass = document.textDocument.getText().slice(value.$cstNode?.offset, written?.offset).trim();
    const positions = line.clauses.filter(isCondition).map(textOf);
    const others = line.clauses.filter((clause) => !isCondition(clause)).map(textOf);
    const stated = [mass, ...others].join(' ');
    const changes: TextChange[] = [
      {
        from: block.from,
        to: block.from,
        text: `item ${name} ${written?.text} { mass: ${stated} }${newline}${newline}`,
      },
      { from: value.$cstNode?.offset ?? 0, to: line.$cstNode?.end ?? 0, text: [name, ...positions].join(' ') },
    ];
    return { ...changed(new Map([[document, changes]])), names: [name, label], named: name, isComputed: true };
  };
  return [{ title: `Extract “${label}” into an item of its own`, kind: CodeActionKind.RefactorExtract, make }];
}

/** `solder, wire` → `Solder` */
function nameFrom(label: string): string {
  const [word = 'Item'] = /\p{L}[\p{L}\p{Nd}]*/u.exec(label) ?? [];
  return upperFirst(word);
}
