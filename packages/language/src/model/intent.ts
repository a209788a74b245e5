/** Which property a line is about, also when the word is misspelt or its colon is missing. */
import { isFigureNode, isPropertyNode, isUnknownNode, type Line, type PropertyNode } from '../grammar/generated/ast.ts';
import { equal, NONE } from '../units/dimension.ts';
import { parseUnit } from '../units/parse.ts';
import type { BlockSchema, Property } from '../vocabulary/schema.ts';
import { meant } from '../vocabulary/synonyms.ts';
import { dimensionsOf } from './figures.ts';

export function intendedProperty<Name extends string>(line: Line, schema: BlockSchema<Name>): Name | undefined {
  if (isPropertyNode(line)) return propertyNear(line.key, schema) ?? onlyProperty(line, schema);
  if (isUnknownNode(line)) return propertyNear(line.words[0] ?? '', schema);
  return undefined;
}

/** Behind a word that is like none: the properties that take its value. */
export function propertiesTaking<Name extends string>(
  { value }: PropertyNode,
  schema: BlockSchema<Name>,
): Property<Name>[] {
  if (!isFigureNode(value) || value.unit === undefined) return [];
  const { unit: written } = value;
  const { unit } = parseUnit(written);
  if (!unit) return [];
  return Object.values(schema.properties).filter((property) =>
    equal(unit.dimension, NONE)
      ? property.unit === written
      : dimensionsOf(property).some((dimension) => equal(dimension, unit.dimension)),
  );
}

function onlyProperty<Name extends string>(line: PropertyNode, schema: BlockSchema<Name>): Name | undefined {
  const [only, ...others] = propertiesTaking(line, schema);
  return others.length === 0 ? only?.name : undefined;
}

/** The property of that name, or the one whose name is closest. */
function propertyNear<Name extends string>(word: string, { properties }: BlockSchema<Name>): Name | undefined {
  const [near = ''] = Object.hasOwn(properties, word) ? [word] : meant(word, Object.keys(properties), 1);
  return properties[near]?.name;
}
