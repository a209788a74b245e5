/** "What if" as text: lines that a person would type, as a variant of a build that is in no file. */
import { AstUtils, type LangiumDocument } from 'langium';
import { readDocument } from '../checks/text/read-document.ts';
import { isAccept, isNamedNode, type NamedNode, type PartNode } from '../grammar/generated/ast.ts';
import { isName } from '../grammar/reserved-words.ts';
import { isPlainLine } from '../grammar/scan.ts';
import { assemble } from '../model/assemble-build.ts';
import type { Build } from '../model/build.ts';
import { isInline } from '../model/inline.ts';
import { aliasOf } from '../syntax/clauses.ts';
import { type Entry, entriesOfBuild } from '../syntax/entries.ts';
import type { Problem } from '../syntax/problem.ts';
import { namedOf, nameText, partOfTarget, targetOf, textOf } from '../syntax/source.ts';
import { nearest } from '../units/nearest.ts';
import { didYouMean, either } from '../vocabulary/phrasing.ts';
import { propertyInWords, schemaOf } from '../vocabulary/properties.ts';
import type { BlockKind } from '../vocabulary/schema.ts';
import { meant as wordMeant } from '../vocabulary/synonyms.ts';
import { partOfKindNamed, type ReadingServices, TRIED, type Trial, withAppended, withoutTrialMarks } from './trial.ts';

/** Why lines cannot be tried: what was typed, and what is wrong with it. */
export class CannotTry extends Error {
  readonly line: string;

  constructor(line: string, message: string) {
    super(message);
    this.line = line;
  }
}

/** `cycles: 100`, `motor.kv: 2650 rpm/V`: a figure of parts that the build has. */
interface PartLine {
  readonly line: string;
  readonly owner: string | undefined;
  readonly property: string;
}

const PROPERTY = /^\s*(?:([\p{L}_][\p{L}\p{M}\p{Nd}_]*)\s*\.\s*)?([A-Za-z_]\w*)\s*:/u;
const SENTENCE = /^\s*(require|keep|raise|lower|accept)\b/;

/** Lines that a build itself may have, and those that are about its parts. */
function sorted(lines: readonly string[]): { own: string[]; ofParts: PartLine[] } {
  const own: string[] = [];
  const ofParts: PartLine[] = [];
  for (const line of lines) {
    if (!isPlainLine(line)) throw new CannotTry(line, 'state one line of a build, without braces or comments');
    const [, owner, property] = PROPERTY.exec(line) ?? [];
    if (property === undefined) {
      if (!SENTENCE.test(line))
        throw new CannotTry(
          line,
          'state a line as in a build, such as `item: 300 g`, `pack: Mast1350_4S` or `motor.kv: 2650 rpm/V`',
        );
      own.push(line.trim());
    } else if (owner === undefined && Object.hasOwn(schemaOf('build').properties, property)) own.push(line.trim());
    else ofParts.push({ line, owner, property });
  }
  return { own, ofParts };
}

/**
 * Reads a build with lines added, as a variant that is `like` it: a line that replaces another does so here, a pack is flown in place of
 * those it has, a figure of a part makes a variant of that part.
 * @throws CannotTry where a line cannot be read, or is about nothing that the build has
 */
export async function buildWith(
  services: ReadingServices,
  document: LangiumDocument,
  name: string,
  lines: readonly string[],
): Promise<{ readonly build: Build; readonly trial: Trial; readonly changesPack: boolean }> {
  const node = partOfKindNamed(document, 'build', name);
  if (!node) throw new Error(`there is no build ${name}`);
  const { own, ofParts } = sorted(lines);
  const changesPack = own.some((line) => PROPERTY.exec(line)?.[2] === 'pack');
  const variant = `${name}${TRIED}`;
  const added = withItems(own);
  const block = blockLike(variant, node, [...(changesPack ? withoutPacks(node) : []), ...added.lines]);
  const first = `${added.items}${block}`;
  let trial = await withAppended(services, document, first);
  let tried = nodeOf(trial, variant);
  refuseProblems(trial, lines);
  if (ofParts.length > 0) {
    const changed = variantsOf(tried, ofParts);
    const second = `${first}${changed.parts}${blockLike(`${variant}${TRIED}`, tried, changed.lines)}`;
    trial = await withAppended(services, document, second);
    tried = nodeOf(trial, `${variant}${TRIED}`);
    refuseProblems(trial, lines);
  }
  return { build: assemble(tried).build, trial, changesPack };
}

/** `30 g`, `30 g "box"`: what somebody puts on board. */
const MASS_ON_BOARD = /^item\s*:\s*([\d.]+\s*(?:g|kg|oz|lb)\b(?:\s*\+-\s*[\d.]+\s*(?:%|g|kg|oz|lb))?)\s*(?:"[^"]*")?$/;

/**
 * A mass that is tried becomes a part of its own: as a line with a label it would count as a list of the small things, and what is allowed
 * for those would go.
 */
function withItems(lines: readonly string[]): { items: string; lines: string[] } {
  const items: string[] = [];
  const own = lines.map((line) => {
    const [, mass] = MASS_ON_BOARD.exec(line) ?? [];
    if (mass === undefined) return line;
    const name = `Tried${TRIED}${items.length}`;
    items.push(`item ${name} { mass: ${mass} }\n`);
    return `item: ${name}`;
  });
  return { items: items.join(''), lines: own };
}

function nodeOf({ document }: Trial, name: string): PartNode {
  const node = partOfKindNamed(document, 'build', name);
  if (!node) throw new Error(`${name} was not read`);
  return node;
}

/** What a build accepts is accepted of its variant too. */
function blockLike(name: string, base: PartNode, lines: readonly string[]): string {
  const accepted = base.lines.filter(isAccept).map(textOf);
  return `build ${name} like ${base.name} {\n${[...accepted, ...lines].map((line) => `  ${line}\n`).join('')}}\n`;
}

const withoutPacks = (node: PartNode): string[] =>
  entriesOfBuild(node)
    .filter(({ word, name }) => word === 'pack' && isName(name))
    .map(({ name }) => `without: ${name}`);

/** The first thing that is wrong with what was added. */
function refuseProblems({ document, from }: Trial, lines: readonly string[]): void {
  const serious = (problem: Problem): boolean => problem.place.start >= from && problem.severity === undefined;
  const [wrong] = readDocument(document).problems.filter(serious);
  if (!wrong) return;
  const text = document.textDocument.getText();
  const start = text.lastIndexOf('\n', wrong.place.start - 1) + 1;
  const end = text.indexOf('\n', start);
  const written = text.slice(start, end < 0 ? undefined : end).trim();
  const line = lines.find((one) => written.startsWith(one.trim()) || one.trim().endsWith(written)) ?? written;
  throw new CannotTry(line, withoutTrialMarks(wrong.message));
}

// ---- figures of parts ----

/** A part that a build has, with every line that names it. */
interface Fitted {
  readonly node: PartNode;
  /** As the build calls it. */
  readonly names: Set<string>;
}

function fittedIn(build: PartNode): Map<PartNode, Fitted> {
  const found = new Map<PartNode, Fitted>();
  for (const entry of entriesOfBuild(build)) {
    for (const named of namesIn(entry)) {
      const node = partOfTarget(targetOf(named));
      if (!node || node.kind === 'build') continue;
      const fitted = found.get(node) ?? { node, names: new Set() };
      if (node.name !== undefined) fitted.names.add(node.name);
      if (named === namedOf(entry.line)) fitted.names.add(entry.name);
      found.set(node, fitted);
    }
  }
  return found;
}

/** Every name in a line: what it is about, and what is behind `with`, `on` and `from`. */
function namesIn({ line }: Entry): NamedNode[] {
  if (isInline(line)) return [];
  return [...AstUtils.streamAllContents(line)].filter(isNamedNode);
}

function variantsOf(build: PartNode, requested: readonly PartLine[]): { parts: string; lines: string[] } {
  const fitted = fittedIn(build);
  const changes = new Map<PartNode, string[]>();
  for (const one of requested) {
    for (const node of ownersOf(one, fitted)) {
      const text = one.line.replace(PROPERTY, `${one.property}:`).trim();
      changes.set(node, [...(changes.get(node) ?? []), text]);
    }
  }
  const written = new Map<PartNode, string>();
  const parts = [...changes].map(([node, lines]) => {
    const entry = [...entriesOfBuild(build)].flatMap(namesIn).find((named) => partOfTarget(targetOf(named)) === node);
    const base = entry ? pathTo(entry) : (node.name ?? '');
    const name = `${node.name}${TRIED}`;
    written.set(node, name);
    return `${node.kind} ${name} like ${base} {\n${lines.map((line) => `  ${line}\n`).join('')}}\n`;
  });
  return { parts: parts.join(''), lines: rewritten(build, written) };
}

/** As it is written in the line: with the word behind `use … as` before it. */
const pathTo = (named: NamedNode): string => nameText(named);

function ownersOf({ line, owner, property }: PartLine, fitted: ReadonlyMap<PartNode, Fitted>): PartNode[] {
  if (owner === undefined && property === 'duty')
    throw new CannotTry(line, 'a duty limit belongs to a pack: `pack: NAME duty 80 %`');
  if (property === 'leg')
    throw new CannotTry(
      line,
      'one leg is no flight: write a `flight` with all its legs in a file, and try `flight: NAME`',
    );
  const all = [...fitted.values()];
  const has = ({ node }: Fitted) => Object.hasOwn(schemaOf<BlockKind>(node.kind).properties, property);
  const meant = owner === undefined ? all : all.filter(({ node, names }) => node.kind === owner || names.has(owner));
  if (meant.length === 0) {
    const known = [...new Set(all.flatMap(({ node, names }) => [node.kind, ...names]))];
    const likely = nearest(owner ?? '', known).slice(0, 1);
    throw new CannotTry(line, `the build has no part ${owner}${didYouMean(likely)}`);
  }
  const able = meant.filter(has);
  const kinds = [...new Set(able.map(({ node }) => node.kind))];
  if (kinds.length === 0) {
    const known = [
      ...Object.keys(schemaOf('build').properties),
      ...new Set(meant.flatMap(({ node }) => Object.keys(schemaOf<BlockKind>(node.kind).properties))),
    ];
    const hint = didYouMean(wordMeant(property, known, 1));
    throw new CannotTry(line, `neither a build nor a part of this one has \`${property}\`${hint}`);
  }
  if (kinds.length > 1) {
    const ways = either(kinds.map((kind) => `\`${kind}.${property}\``));
    throw new CannotTry(line, `several parts state their ${propertyInWords(property)}: state whose, as ${ways}`);
  }
  return able.map(({ node }) => node);
}

/** The lines of a build that name one of these parts, with the other name; of words of which a variant replaces all, all of them. */
function rewritten(build: PartNode, names: ReadonlyMap<PartNode, string>): string[] {
  const entries = entriesOfBuild(build);
  const { properties } = schemaOf('build');
  const isTouched = (entry: Entry) => namesIn(entry).some((named) => isOneOf(named, names));
  const words = new Set(entries.filter(isTouched).map(({ word }) => word));
  return entries.flatMap((entry) => {
    if (!words.has(entry.word)) return [];
    const replaces = properties[entry.word]?.inBuild === 'replace';
    if (!replaces && !isTouched(entry)) return [];
    const text = isTouched(entry) ? withNames(entry, names) : textOf(entry.line);
    return replaces ? [text] : [`without: ${entry.name}`, text];
  });
}

const isOneOf = (named: NamedNode, names: ReadonlyMap<PartNode, string>): boolean => {
  const node = partOfTarget(targetOf(named));
  return node !== undefined && names.has(node) && !isSecondName(named, node);
};

/** `from Top.logic` goes by the board's name in the build, which stays. */
const isSecondName = (named: NamedNode, node: PartNode): boolean => targetOf(named) !== node;

/** The part under its new name goes by the old one in the build, as far as lines can give it one. */
function withNames(entry: Entry, names: ReadonlyMap<PartNode, string>): string {
  const { line } = entry;
  const start = line.$cstNode?.offset ?? 0;
  let text = textOf(line);
  const own = namedOf(line);
  const changed = namesIn(entry).filter((named) => isOneOf(named, names));
  for (const named of changed.toSorted((a, b) => (b.$cstNode?.offset ?? 0) - (a.$cstNode?.offset ?? 0))) {
    const from = (named.$cstNode?.offset ?? 0) - start;
    const to = (named.$cstNode?.end ?? 0) - start;
    const node = partOfTarget(targetOf(named));
    text = text.slice(0, from) + ((node && names.get(node)) ?? '') + text.slice(to);
  }
  const keepsName = own !== undefined && isOneOf(own, names) && aliasOf(line) === undefined;
  const canBeNamed = schemaOf('build').properties[entry.word]?.clauses?.as !== undefined;
  return keepsName && canBeNamed ? `${text} as ${entry.name}` : text;
}
