/** What a file states, statement by statement, as written: for distinguishing two versions of it, and for applying one change of them. */
import { type CstNode, CstUtils, GrammarUtils } from 'langium';
import {
  isAccept,
  isChangeNode,
  isKeep,
  isLog,
  isNoteNode,
  isObservedNode,
  isPartNode,
  isPropertyNode,
  isRailNode,
  isRequire,
  isRows,
  type Line,
  type ObservedNode,
  type PartNode,
  type RailNode,
  type Rows,
} from '../grammar/generated/ast.ts';
import { keyOf, LIBRARY_SCHEME, placeOfPath } from '../resolve/keys.ts';
import { FettleReference } from '../resolve/reference.ts';
import { nameBehind } from '../syntax/clauses.ts';
import { nameOf } from '../syntax/entries.ts';
import { remembered } from '../syntax/memory.ts';
import { documentOf, type FileDocument, partAround } from '../syntax/nodes.ts';
import type { Place } from '../syntax/place.ts';
import { placeOf, placeOfFeature, uriOf } from '../syntax/source.ts';
import { schemaOf } from '../vocabulary/properties.ts';
import type { BlockKind, Kind } from '../vocabulary/schema.ts';
import { fileRows } from './bench-rows.ts';
import { identityOf } from './parts.ts';

/** What a statement is, apart from its words. */
export type StatementSort =
  | 'like'
  | 'rules'
  | 'property'
  | 'rail'
  | 'line of a rail'
  | 'require'
  | 'keep'
  | 'accept'
  | 'severity'
  | 'observed'
  | 'rows'
  | 'unknown';

export interface Statement {
  readonly sort: StatementSort;
  /** The same in another version of the block, unless the statement is another one: `resistance`, `load Lamp`, `rail video, output`. */
  readonly key: string;
  /** What its likes begin with: statements of one word may have replaced one another. */
  readonly word: string;
  /** As written, without comments, white space folded. */
  readonly text: string;
  /** The same for statements that differ in white space only. */
  readonly sense: string;
  /** What comes after the colon, or all of it. */
  readonly value: string;
  readonly place: Place;
  /** URI of the log that it reads, whose rows are not in `text`. */
  readonly reads?: string;
  /** Key of the rail that it is a line of. */
  readonly rail?: string;
  /** Offset, behind the rail's last line, where a new line of its rail is allowed; only of rails. */
  readonly insertAt?: number;
}

/** A part, rules or build as a file declares it, `like` not resolved. */
export interface Declaration {
  readonly kind: Kind;
  readonly name: string;
  /** Identity of the declared part as figures state it: file, kind, name. */
  readonly id: string;
  /** The name's place. */
  readonly place: Place;
  /** All of it. */
  readonly whole: Place;
  readonly statements: readonly Statement[];
  /** Offset of the closing brace, where a further line may be put before; the end of the text of a part without a block. */
  readonly insertAt: number;
  readonly hasBlock: boolean;
  /** Offset behind name and title, where `like` is allowed. */
  readonly headerEnd: number;
  /** What it names: bases, parts fitted, rules. The shipped library, the same in every version, is left out. */
  restsOn(): readonly Declaration[];
}

export const declarationsOf = remembered((document: FileDocument): readonly Declaration[] =>
  document.parseResult.value.parts.map(declarationOf),
);

/** Parts and all that they rest on, each once, in the order in which they are reached. */
export function closureOf(declarations: readonly Declaration[]): readonly Declaration[] {
  const reached = new Set(declarations);
  for (const one of reached) for (const other of one.restsOn()) reached.add(other);
  return [...reached];
}

const declarationOf: (node: PartNode) => Declaration = remembered((node: PartNode) => ({
  kind: node.kind,
  name: node.name ?? '',
  id: identityOf(node),
  place: node.name === undefined ? placeOfFeature(node, 'kind') : placeOfFeature(node, 'name'),
  whole: placeOf(node),
  statements: [...headerOf(node), ...numbered(node.lines.flatMap((line) => statementsOf(line, node.kind)))],
  insertAt: endOfBlock(node),
  hasBlock: Boolean(node.block),
  headerEnd: placeOfFeature(node, node.title === undefined ? (node.name === undefined ? 'kind' : 'name') : 'title').end,
  restsOn: () => targetsOf(node),
}));

function headerOf(node: PartNode): Statement[] {
  if (!node.base) return [];
  const like = GrammarUtils.findNodeForKeyword(node.$cstNode, 'like');
  const base = node.base.$cstNode;
  if (!like || !base) return [];
  const place = { uri: uriOf(node), start: like.offset, end: base.end };
  const value = textOf(base);
  const [text, sense] = [`like ${value}`, `like ${senseOf(base)}`];
  return [{ sort: 'like', key: 'like', word: 'like', text, sense, value, place }];
}

/** Notes and titles are words to people: they change no number and no finding. */
function statementsOf(line: Line, kind: BlockKind): Statement[] {
  if (isNoteNode(line)) return [];
  const whole = (sort: StatementSort, key: string, word: string = sort): Statement => {
    const text = textOf(line.$cstNode);
    return { sort, key, word, text, sense: senseOf(line.$cstNode), value: text, place: placeOf(line) };
  };
  if (isPropertyNode(line)) {
    const isFitted = kind === 'build' && schemaOf('build').properties[line.key]?.shape === 'part';
    const key = isFitted ? `${line.key} ${nameOf(line)}` : line.key;
    const text = textOf(line.$cstNode);
    const value = text.replace(/^\w+ ?: ?/, '');
    const sort = line.key === 'rules' ? 'rules' : 'property';
    return [{ sort, key, word: line.key, text, sense: senseOf(line.$cstNode), value, place: placeOf(line) }];
  }
  if (isRailNode(line)) return railStatements(line);
  if (isRequire(line)) return [whole('require', `require ${textOf(line.condition?.$cstNode)}`)];
  if (isKeep(line)) return [whole('keep', `keep ${nameBehind(line, 'on') ?? ''}`)];
  if (isAccept(line)) return [whole('accept', `accept ${line.finding ?? ''} ${nameBehind(line, 'with') ?? ''}`.trim())];
  if (isChangeNode(line)) return [whole('severity', `severity of ${line.finding ?? ''}`)];
  if (isObservedNode(line)) return [{ ...whole('observed', `observed ${line.title ?? ''}`), ...logRead(line) }];
  if (isRows(line)) return [rowsStatement(line, whole('rows', 'rows'))];
  return [whole('unknown', 'line', 'line')];
}

function logRead({ lines }: ObservedNode): Pick<Statement, 'reads'> {
  const log = lines.find(isLog);
  const uri = log && documentOf(log)?.uri;
  return uri && log.file !== undefined ? { reads: keyOf(placeOfPath(uri, log.file)) } : {};
}

/** Rows of a file as if they were in the text: so they can be distinguished, and each version has its own. */
function rowsStatement(line: Rows, asWritten: Statement): Statement {
  const table = fileRows(line);
  if (!table) return asWritten;
  const columns = line.columns.map(({ $cstNode }) => textOf($cstNode)).join(', ');
  const cells = table.rows.map((row) => row.join(', '));
  const text = `rows ${columns} {\n${cells.join('\n')}\n}`;
  return { ...asWritten, text, sense: text, value: `rows ${columns} { ${cells.join(' · ')} }` };
}

/** The rail itself (that it is there), and its lines. */
function railStatements(rail: RailNode): Statement[] {
  const name = `rail ${rail.name ?? ''}`;
  const itself: Statement = {
    sort: 'rail',
    key: name,
    word: 'rail',
    text: name,
    sense: name,
    value: textOf(rail.$cstNode),
    place: placeOf(rail),
    insertAt: endOfBlock(rail),
  };
  const lines = numbered(rail.lines.flatMap((line) => statementsOf(line, 'rail')));
  const ofRail = (line: Statement): Statement => ({
    ...line,
    sort: 'line of a rail',
    key: `${name}, ${line.key}`,
    word: `${name}, ${line.word}`,
    rail: name,
  });
  return [itself, ...lines.map(ofRail)];
}

/** Second and further lines of one key are distinguished by their order. */
function numbered(statements: readonly Statement[]): Statement[] {
  const seen = new Map<string, number>();
  return statements.map((statement) => {
    const count = (seen.get(statement.key) ?? 0) + 1;
    seen.set(statement.key, count);
    return count === 1 ? statement : { ...statement, key: `${statement.key} (${count})` };
  });
}

function endOfBlock(node: PartNode | RailNode): number {
  const brace = GrammarUtils.findNodeForProperty(node.$cstNode, 'closed');
  return brace?.offset ?? node.$cstNode?.end ?? 0;
}

function textOf(node: CstNode | undefined): string {
  if (!node) return '';
  let end = node.offset;
  let text = '';
  for (const leaf of CstUtils.flattenCst(node)) {
    if (leaf.hidden) continue;
    text += leaf.offset > end ? ` ${leaf.text}` : leaf.text;
    end = leaf.end;
  }
  return text;
}

function senseOf(node: CstNode | undefined): string {
  if (!node) return '';
  return CstUtils.flattenCst(node)
    .filter((leaf) => !leaf.hidden)
    .map((leaf) => leaf.text)
    .join(' ');
}

const targetsOf = remembered((node: PartNode): readonly Declaration[] => partsNamedBy(node).map(declarationOf));

/** What a part names: bases, parts fitted, rules; without the shipped library. */
export const partsNamedBy: (node: PartNode) => readonly PartNode[] = remembered(findPartsNamedBy);

function findPartsNamedBy(node: PartNode): PartNode[] {
  const document = node.$container?.$document;
  const targets = new Set<PartNode>();
  for (const reference of document?.references ?? []) {
    if (!(reference instanceof FettleReference) || partAround(reference.container) !== node) continue;
    const target = reference.ref;
    const part = target && (isPartNode(target) ? target : partAround(target));
    if (part && part !== node && !uriOf(part).startsWith(`${LIBRARY_SCHEME}:`)) targets.add(part);
  }
  return [...targets];
}
