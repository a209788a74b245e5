/** What a first result needs and nobody has said: one finding a block. */
import { isProperty, isRail, type Line, type Part as PartNode, type Rail } from '../../grammar/generated/ast.ts';
import { schemaOf } from '../../vocabulary/properties.ts';
import type { BlockSchema, Property } from '../../vocabulary/schema.ts';
import { chainOf } from '../chain.ts';
import { entriesOf } from '../entries.ts';
import { intendedProperty } from '../intent.ts';
import { isUnset } from '../parts.ts';
import type { Place } from '../place.ts';
import type { Problem } from '../problem.ts';
import { placeOfFeature } from '../source.ts';
import { problem } from './report.ts';

export function missingInPart(node: PartNode): Problem | undefined {
  const chain = chainOf(node);
  if (chain.broken || node.name === undefined) return undefined;
  const schema = schemaOf(node.kind);
  const said = saidIn(
    chain.parts.map((part) => part.lines),
    schema,
  );
  if (node.kind === 'build') {
    const kept = new Set(entriesOf(chain.parts).map((entry) => entry.word));
    for (const word of [...said])
      if (schema.properties[word]?.shape === 'part' && !kept.has(word) && !isHalfSaid(node, word)) said.delete(word);
  }
  return missing(node.name, schema, said, placeOfFeature(node, 'name'));
}

/** A line with the word is there, whatever stands behind it. */
function isHalfSaid(node: PartNode, word: string): boolean {
  return node.lines.some((line) => !isProperty(line) && intendedProperty(line, schemaOf('build')) === word);
}

export function missingInRail(rail: Rail, board: PartNode): Problem | undefined {
  const chain = chainOf(board);
  if (chain.broken || rail.name === undefined) return undefined;
  const schema = schemaOf('rail');
  const same = chain.parts.flatMap((part) => part.lines.filter(isRail)).filter((other) => other.name === rail.name);
  return missing(
    `rail ${rail.name}`,
    schema,
    saidIn(
      same.map((other) => other.lines),
      schema,
    ),
    placeOfFeature(rail, 'name'),
  );
}

/** The nearest block decides: `none` takes back what the base says. Misspelt words count as said: their own finding is enough. */
function saidIn(blocks: readonly (readonly Line[])[], schema: BlockSchema): Set<string> {
  const said = new Map<string, boolean>();
  for (const line of blocks.flat()) {
    const property = intendedProperty(line, schema);
    if (property !== undefined && !said.has(property)) said.set(property, !(isProperty(line) && isUnset(line)));
  }
  return new Set([...said].filter(([, isSaid]) => isSaid).map(([property]) => property));
}

function missing(name: string, schema: BlockSchema, said: ReadonlySet<string>, place: Place): Problem | undefined {
  const lacking = Object.values(schema.properties).filter((property) => isLacking(property, said));
  if (lacking.length === 0) return undefined;
  const words = lacking.map(inWords);
  const list = words.length === 1 ? words[0] : `${words.slice(0, -1).join(', ')} and ${words.at(-1)}`;
  return problem('missing-value', `${name} still needs ${list}`, place);
}

function isLacking(property: Property, said: ReadonlySet<string>): boolean {
  if (said.has(property.name)) return false;
  if (property.required) return true;
  return property.requiredUnless !== undefined && !property.requiredUnless.some((other) => said.has(other));
}

function inWords(property: Property): string {
  const others = property.requiredUnless ?? [];
  return others.length > 0 ? `${property.name} (or ${others.join(' or ')})` : property.name;
}
