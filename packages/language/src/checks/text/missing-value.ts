/** Something needed is missing. What a first result needs and nobody has stated is found here, once per block; what a line lacks, by its reader. */
import { AstUtils } from 'langium';
import { isPropertyNode, isRailNode, type Line, type PartNode, type RailNode } from '../../grammar/generated/ast.ts';
import { intendedProperty } from '../../model/intent.ts';
import { partOf } from '../../model/parts.ts';
import { LIBRARY_SCHEME } from '../../resolve/keys.ts';
import { lookupOf } from '../../resolve/linker.ts';
import { chainOf } from '../../syntax/chain.ts';
import { isUnset } from '../../syntax/clauses.ts';
import { entriesOfBuild } from '../../syntax/entries.ts';
import type { Place } from '../../syntax/place.ts';
import type { Problem } from '../../syntax/problem.ts';
import { placeOfFeature } from '../../syntax/source.ts';
import { article, either, listed } from '../../vocabulary/phrasing.ts';
import { type PropertyName, schemaOf } from '../../vocabulary/properties.ts';
import type { BlockSchema, Property } from '../../vocabulary/schema.ts';
import { flatten, problem } from './problem-words.ts';
import type { TextCheck } from './text-check.ts';

export const MISSING_VALUE: TextCheck = {
  id: 'missing-value',
  severity: 'error',
  findInPart: missingValues,
  page: {
    title: 'Something needed is missing',
    cause:
      'A name, a value, or one of the nine figures that a first result needs: stator size, kV, propeller size and blades, cells, capacity, ESC amps, video watts, dry mass.',
    criterion: 'Read from the text alone.',
    standing: 'The language.',
    remedy: 'Add what the message lists; everything else can be estimated.',
    fixes: ['choice'],
    fails: `motor Bare like M1805 { kv: }`,
    passes: `motor Clad like M1805 { kv: 2550 rpm/V }`,
  },
};

function missingValues(part: PartNode, isWhole: boolean): Problem[] {
  if (!isWhole) return [];
  const rails = part.lines.filter(isRailNode).map((rail) => missingInRail(rail, part));
  return flatten([part.block ? missingInPart(part) : undefined, ...rails]);
}

function missingInPart(node: PartNode): Problem | undefined {
  const lacking = lackingIn(node);
  if (node.name === undefined || lacking.length === 0) return undefined;
  const place = placeOfFeature(node, 'name');
  if (!isOnlyCopied(node)) return problem('missing-value', `${node.name} still needs ${listed(lacking, 'and')}`, place);
  // A build that names packs may be meant to fly: that it does not as it is must not look like an all-clear.
  const hasPacks = node.kind === 'build' && entriesOfBuild(node).some(({ word }) => word === 'pack');
  if (!hasPacks) return undefined;
  const description = `${node.name} itself lacks ${listed(lacking, 'and')} and is not judged; builds that are like it may bring that along`;
  return { ...problem('missing-value', description, place), severity: 'hint' };
}

/** A part of the library, such as a stator without its winding, is completed by a part that is like it. */
export function missingInLibraryPart(used: PartNode, place: Place): Problem | undefined {
  if (AstUtils.getDocument(used).uri.scheme !== LIBRARY_SCHEME) return undefined;
  const lacking = lackingIn(used);
  if (lacking.length === 0) return undefined;
  const description = `${used.name} still needs ${listed(lacking, 'and')}: write ${article(used.kind)} ${used.kind} that is like ${used.name}`;
  return problem('missing-value', description, place);
}

function missingInRail(rail: RailNode, board: PartNode): Problem | undefined {
  const chain = chainOf(board);
  if (chain.broken || rail.name === undefined) return undefined;
  const schema = schemaOf('rail');
  const same = chain.parts.flatMap((part) => part.lines.filter(isRailNode)).filter((other) => other.name === rail.name);
  const blocks = same.map((other) => other.lines);
  const lacking = lackingOf(schema, statedIn(blocks, schema)).map(inWords);
  if (lacking.length === 0 || isOnlyCopied(board)) return undefined;
  return problem(
    'missing-value',
    `rail ${rail.name} still needs ${listed(lacking, 'and')}`,
    placeOfFeature(rail, 'name'),
  );
}

/** Others are like it and nobody uses it as it is: then it may be incomplete. */
function isOnlyCopied(node: PartNode): boolean {
  const document = AstUtils.getDocument(node);
  return lookupOf(document)?.index.isOnlyCopied(node, document.uri.toString()) ?? false;
}

const lackingIn = (node: PartNode): string[] => lackingProperties(node).map(inWords);

/** The lines that a part or build still needs; none where an ancestor is missing. */
export function lackingProperties(node: PartNode): Property[] {
  const chain = chainOf(node);
  if (chain.broken) return [];
  const schema = schemaOf(node.kind);
  const blocks = chain.parts.map((part) => part.lines);
  const stated = statedIn(blocks, schema);
  if (node.kind === 'build') for (const word of takenAway(node, stated)) stated.delete(word);
  const part = partOf(node);
  const isNeedless = ({ unlessZero }: Property<PropertyName>) =>
    unlessZero !== undefined && part.firstNumber(unlessZero)?.value === 0;
  for (const property of Object.values(schema.properties)) if (isNeedless(property)) stated.add(property.name);
  return lackingOf(schema, stated);
}

/** Words of which nothing is left after `without` and `none`. */
function takenAway<Name extends PropertyName>(build: PartNode, stated: ReadonlySet<Name>): Name[] {
  const schema = schemaOf('build');
  const kept = new Set<PropertyName>(entriesOfBuild(build).map((entry) => entry.word));
  const isHalfWritten = (word: string) =>
    build.lines.some((line) => !isPropertyNode(line) && intendedProperty(line, schema) === word);
  return [...stated].filter(
    (word) => schema.properties[word]?.shape === 'part' && !kept.has(word) && !isHalfWritten(word),
  );
}

/** The nearest block decides: `none` takes back what the base states. Misspelt words count as stated: their own finding is enough. */
function statedIn<Name extends string>(blocks: readonly (readonly Line[])[], schema: BlockSchema<Name>): Set<Name> {
  const stated = new Map<Name, boolean>();
  for (const block of blocks) {
    const own = new Map<Name, boolean>();
    for (const line of block) {
      const property = intendedProperty(line, schema);
      if (property === undefined) continue;
      // `pack: none` and a pack behind it: what is inherited goes, and a new one comes.
      own.set(property, own.get(property) === true || !(isPropertyNode(line) && isUnset(line)));
    }
    for (const [property, isStated] of own) if (!stated.has(property)) stated.set(property, isStated);
  }
  return new Set([...stated].filter(([, isStated]) => isStated).map(([property]) => property));
}

const lackingOf = (schema: BlockSchema, stated: ReadonlySet<string>): Property[] =>
  Object.values(schema.properties).filter((property) => isLacking(property, stated));

function isLacking(property: Property, stated: ReadonlySet<string>): boolean {
  if (stated.has(property.name)) return false;
  if (property.required) return true;
  return property.requiredUnless !== undefined && !property.requiredUnless.some((other) => stated.has(other));
}

function inWords(property: Property): string {
  const others = property.requiredUnless ?? [];
  return others.length > 0 ? `${property.name} (or ${either(others)})` : property.name;
}
