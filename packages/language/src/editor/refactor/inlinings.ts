/** Replaces the name of a part by its lines: of a base in what is like it, of rules in their build, of an item in its line. */
import { GrammarUtils, type LangiumDocument } from 'langium';
import { CodeActionKind } from 'vscode-languageserver-types';
import {
  isAccept,
  isAlias,
  isLog,
  isNamedNode,
  isObservedNode,
  isPartNode,
  isPropertyNode,
  isRailNode,
  isRows,
  type Line,
  type PartNode,
  type PropertyNode,
  type RailNode,
} from '../../grammar/generated/ast.ts';
import { LIBRARY_SCHEME } from '../../resolve/keys.ts';
import { heirsOf } from '../../resolve/occurrences.ts';
import { isUnset } from '../../syntax/clauses.ts';
import { type FileDocument, partNamed } from '../../syntax/nodes.ts';
import { namedOf, partOfTarget, targetOf, textOf } from '../../syntax/source.ts';
import { type PropertyName, schemaOf } from '../../vocabulary/properties.ts';
import {
  type BlockText,
  blockRemoval,
  blockTextOf,
  commentsAbove,
  type LineText,
  rowEnd,
  rowStart,
  rowsAsText,
} from './block-text.ts';
import {
  changed,
  homeOf,
  isInHeader,
  newlineOf,
  partAroundSelection,
  type Refactoring,
  type RefactoringRequest,
  type Rewriting,
} from './rewriting.ts';
import type { TextChange } from './text-change.ts';

export function inlinings(asked: RefactoringRequest): Refactoring[] {
  const part = partAroundSelection(asked);
  const block = part && blockTextOf(asked.document, part);
  if (!part?.name || !block) return [];
  return [
    ...(isInHeader(asked, block.open) ? [...baseInto(asked, part), ...intoHeirs(asked, part)] : []),
    ...intoTheBuild(asked, part),
  ];
}

// ---- a base

/** At a part that is like another: copies the base's lines into it, and removes the base where nothing else names it. */
function baseInto(asked: RefactoringRequest, heir: PartNode): Refactoring[] {
  const base = partNamed(heir.base);
  if (!base || !canBeInlined(base)) return [];
  const isLast = isOurs(base) && usersOf(asked, base).length === 1 && !base.lines.some(isRows);
  const title = `Inline ${base.name} into ${heir.name}${isLast ? ' and remove it' : ''}`;
  return [{ title, kind: CodeActionKind.RefactorInline, make: () => inlined(base, [heir], isLast) }];
}

/** At a part that is used only as a base: copies its lines into all that is like it, and removes it. */
function intoHeirs(asked: RefactoringRequest, base: PartNode): Refactoring[] {
  const heirs = heirsOf(base, asked.index);
  const isOnlyBase = heirs.length > 0 && heirs.length === usersOf(asked, base).length;
  if (!isOnlyBase || !canBeInlined(base) || base.lines.some(isRows)) return [];
  const into = heirs.length === 1 ? `${heirs[0]?.name}` : `the ${heirs.length} that are like it`;
  const title = `Inline ${base.name} into ${into} and remove it`;
  return [{ title, kind: CodeActionKind.RefactorInline, make: () => inlined(base, heirs, true) }];
}

const isOurs = (part: PartNode): boolean => homeOf(part).uri.scheme !== LIBRARY_SCHEME;

const usersOf = ({ index }: RefactoringRequest, part: PartNode) =>
  index.referencesTo(part, homeOf(part).uri.toString());

/** What a build alone has is not copied; the rows of a test stand are its own. */
const canBeInlined = ({ lines }: PartNode): boolean =>
  !lines.some(
    (line) => isAccept(line) || isObservedNode(line) || isLog(line) || (isPropertyNode(line) && isUnset(line)),
  );

function inlined(base: PartNode, heirs: readonly PartNode[], isRemoved: boolean): Rewriting | undefined {
  const changes = new Map<LangiumDocument, TextChange[]>();
  for (const heir of heirs) {
    const own = intoHeir(base, heir, isRemoved);
    if (own === undefined) return undefined;
    const home = homeOf(heir);
    changes.set(home, [...(changes.get(home) ?? []), ...own]);
  }
  if (isRemoved) {
    const home = homeOf(base);
    const block = blockTextOf(home, base);
    if (!block) return undefined;
    changes.set(home, [...(changes.get(home) ?? []), blockRemoval(home.textDocument.getText(), block)]);
  }
  return { ...changed(changes), names: [base.name ?? ''] };
}

/**
 * Writes the base's lines that the heir does not replace before its own; `like` is removed, or names the base's own base. The base's comments
 * are copied only when it is removed.
 */
function intoHeir(base: PartNode, heir: PartNode, isRemoved: boolean): TextChange[] | undefined {
  const [from, to] = [homeOf(base), homeOf(heir)];
  const [given, taken] = [blockTextOf(from, base), blockTextOf(to, heir)];
  const like = heir.base?.$cstNode;
  if (
    !given ||
    !taken ||
    !like ||
    heir.lines.some((line) => isPropertyNode(line) && (isUnset(line) || line.key === 'without'))
  )
    return undefined;
  const source = from.textDocument.getText();
  const newline = newlineOf(to);
  const counting = given.lines.filter(({ node }) => counts(node, heir));
  const tail = given.isOneRow ? '' : source.slice(given.last, rowStart(source, given.close));
  const comments = isRemoved ? commentsAbove(source, given) + tail : '';
  const rows = [comments, ...counting.map((line) => rowsAsText(source, given, line, newline))].join('');
  // What is preferred first comes first: a shortlist’s own lines, then those of what it is like.
  const isBehind = heir.kind === 'shortlist';
  const merged = given.lines.flatMap(({ node }) => (isRailNode(node) ? railInto(from, node, to, heir) : []));
  return [
    likeBecomes(heir, base),
    ...(rows.trim() === ''
      ? []
      : [insertion(to.textDocument.getText(), taken, rows.replace(/\r?\n/g, newline), newline, isBehind)]),
    ...merged,
  ];
}

const TOGETHER: ReadonlySet<string> = new Set<PropertyName<'build'>>(['motors', 'upper_motors', 'lower_motors']);

/** What the heir states itself replaces what it inherits. */
function counts(line: Line, heir: PartNode): boolean {
  if (isRailNode(line)) return railOf(heir, line.name) === undefined;
  if (isRows(line)) return false;
  if (!isPropertyNode(line)) return true;
  const { inBuild, repeats } = schemaOf(heir.kind).properties[line.key] ?? {};
  const isAdded = inBuild === 'add' || (heir.kind === 'shortlist' && repeats === true);
  const stated = heir.lines.filter(isPropertyNode).map(({ key }) => key);
  if (heir.kind === 'build' && TOGETHER.has(line.key)) return !stated.some((key) => TOGETHER.has(key));
  return isAdded || !stated.includes(line.key);
}

const railOf = (part: PartNode, name: string | undefined): RailNode | undefined =>
  part.lines.filter(isRailNode).find((rail) => rail.name === name);

/** What the base states of a rail of the heir. */
function railInto(from: FileDocument, rail: RailNode, to: FileDocument, heir: PartNode): TextChange[] {
  const own = railOf(heir, rail.name);
  const [given, taken] = [blockTextOf(from, rail), own && blockTextOf(to, own)];
  if (!own || !given || !taken) return [];
  const stated = own.lines.filter(isPropertyNode).map(({ key }) => key);
  const counting = given.lines.filter(({ node }) => !isPropertyNode(node) || !stated.includes(node.key));
  const newline = newlineOf(to);
  const rows = counting.map((line) => rowsAsText(from.textDocument.getText(), given, line, newline)).join('');
  if (rows === '') return [];
  return [insertion(to.textDocument.getText(), taken, rows.replace(/\r?\n/g, newline), newline)];
}

/** Before the lines of a block, or behind them; one that is on one row becomes several. */
function insertion(text: string, block: BlockText, rows: string, newline: string, isBehind = false): TextChange {
  const at = isBehind ? block.last : block.first;
  if (!block.isOneRow) return { from: at, to: at, text: rows };
  const own = block.lines.map(({ from, to }) => `  ${text.slice(from, to)}${newline}`).join('');
  return { from: block.open, to: block.close + 1, text: `{${newline}${isBehind ? own + rows : rows + own}}` };
}

/** Removes ` like Base` with the blank before it, or names what the base is like. */
function likeBecomes(heir: PartNode, base: PartNode): TextChange {
  const named = heir.base?.$cstNode;
  const further = base.base?.$cstNode?.text;
  if (named !== undefined && further !== undefined) return { from: named.offset, to: named.end, text: further };
  const word = GrammarUtils.findNodeForKeyword(heir.$cstNode, 'like');
  const behind =
    GrammarUtils.findNodeForProperty(heir.$cstNode, 'title') ?? GrammarUtils.findNodeForProperty(heir.$cstNode, 'name');
  return { from: behind?.end ?? word?.offset ?? 0, to: named?.end ?? 0, text: '' };
}

// ---- rules and items of one build

/** At the part, or at the line of the build that names it; only where nothing else does. */
function intoTheBuild(asked: RefactoringRequest, part: PartNode): Refactoring[] {
  const used = part.kind === 'build' ? partOfLine(asked, part) : part;
  if (!used || (used.kind !== 'rules' && used.kind !== 'item') || !isOurs(used)) return [];
  const [reference, ...others] = usersOf(asked, used);
  const line = reference?.container.$container;
  const build = line?.$container;
  const isTheLine = isPropertyNode(line) && isNamedNode(line.value) && isPartNode(build) && build.kind === 'build';
  if (others.length > 0 || !isTheLine || line.key !== used.kind || line.clauses.some(isAlias)) return [];
  const make = (): Rewriting | undefined =>
    used.kind === 'rules' ? rulesInto(used, line, build) : itemInto(used, line);
  const title = `Inline ${used.name} into ${build.name} and remove it`;
  return [{ title, kind: CodeActionKind.RefactorInline, make }];
}

function partOfLine({ start, end }: RefactoringRequest, build: PartNode): PartNode | undefined {
  const line = build.lines.find(({ $cstNode: own }) => own !== undefined && own.offset <= start && own.end >= end);
  return line && isPropertyNode(line) ? partOfTarget(targetOf(namedOf(line))) : undefined;
}

function rulesInto(rules: PartNode, line: PropertyNode, build: PartNode): Rewriting | undefined {
  const [from, to] = [homeOf(rules), homeOf(build)];
  const [given, taken] = [blockTextOf(from, rules), blockTextOf(to, build)];
  const own = taken?.lines.find(({ node }) => node === line);
  // Of several rules the stricter counts, and what the build states itself would take precedence over the others.
  const isAlone = build.lines.filter((one) => isPropertyNode(one) && one.key === 'rules').length === 1;
  if (!given || !taken || !own || taken.isOneRow || !isAlone) return undefined;
  const source = from.textDocument.getText();
  const newline = newlineOf(to);
  const rows = [
    commentsAbove(source, given),
    ...given.lines.map((one) => rowsAsText(source, given, one, newline)),
  ].join('');
  const text = to.textDocument.getText();
  const further = rules.base?.$cstNode?.text;
  const kept =
    further === undefined
      ? commentRows(text, own)
      : text.slice(own.from, own.to).replace(textOf(line), `rules: ${further}`);
  const changes = new Map<LangiumDocument, TextChange[]>([
    [to, [{ from: own.from, to: own.to, text: kept + rows.replace(/\r?\n/g, newline) }]],
  ]);
  changes.set(from, [...(changes.get(from) ?? []), blockRemoval(source, given)]);
  return { ...changed(changes), names: [rules.name ?? ''] };
}

/** The comments of a line that is removed. */
function commentRows(text: string, { node, from, to }: LineText): string {
  const { offset, end } = node.$cstNode ?? { offset: from, end: to };
  const behind = text.slice(end, to).trim();
  const indent = text.slice(rowStart(text, offset), offset);
  return (
    text.slice(from, rowStart(text, offset)) +
    (behind === '' ? '' : indent + behind + text.slice(rowEnd(text, end) - (text[to - 2] === '\r' ? 2 : 1), to))
  );
}

/** `item: 4 g "strap"`, for an item of which nothing but the mass is stated. */
function itemInto(item: PartNode, line: PropertyNode): Rewriting | undefined {
  const build = line.$container;
  const [from, to] = [homeOf(item), line.$cstNode && isPartNode(build) ? homeOf(build) : undefined];
  const given = blockTextOf(from, item);
  const [mass, ...others] = item.lines;
  const isPlain = given && mass && isPropertyNode(mass) && mass.key === 'mass' && others.length === 0 && !item.base;
  const comments = given && commentsAbove(from.textDocument.getText(), given).trim();
  if (!isPlain || !to || !mass.value || comments !== '') return undefined;
  const label = item.title ?? item.name ?? '';
  const clauses = [...mass.clauses, ...line.clauses].map(textOf);
  const value = line.value?.$cstNode;
  const written = [textOf(mass.value), JSON.stringify(label), ...clauses].join(' ');
  const changes = new Map<LangiumDocument, TextChange[]>([
    [to, [{ from: value?.offset ?? 0, to: line.$cstNode?.end ?? 0, text: written }]],
  ]);
  changes.set(from, [...(changes.get(from) ?? []), blockRemoval(from.textDocument.getText(), given)]);
  return { ...changed(changes), names: [label, item.name ?? ''].filter(Boolean), isComputed: true };
}
