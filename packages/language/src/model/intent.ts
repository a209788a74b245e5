/** Which property a line is about, also when the word is misspelt or its colon is missing. */
import { isFigure, isProperty, isUnknown, type Line, type Property as PropertyLine } from '../grammar/generated/ast.ts';
import { equal, NONE } from '../units/dimension.ts';
import { parseUnit } from '../units/parse.ts';
import type { BlockSchema, Property } from '../vocabulary/schema.ts';
import { meant } from '../vocabulary/synonyms.ts';
import { dimensionsOf } from './figures.ts';

export function intendedProperty(line: Line, schema: BlockSchema): string | undefined {
  if (isProperty(line)) return propertyNear(line.key, schema) ?? onlyProperty(line, schema);
  if (isUnknown(line)) return propertyNear(line.words[0] ?? '', schema);
  return undefined;
}

/** Behind a word that is like none: the properties that take its value. */
export function propertiesTaking({ value }: PropertyLine, schema: BlockSchema): Property[] {
  if (!isFigure(value) || value.unit === undefined) return [];
  const { unit: written } = value;
  const { unit } = parseUnit(written);
  if (!unit) return [];
  return Object.values(schema.properties).filter((property) =>
    equal(unit.dimension, NONE)
      ? property.unit === written
      : dimensionsOf(property).some((dimension) => equal(dimension, unit.dimension)),
  );
}

function onlyProperty(line: PropertyLine, schema: BlockSchema): string | undefined {
  const [only, ...others] = propertiesTaking(line, schema);
  return others.length === 0 ? only?.name : undefined;
}

/** The property of that name, or the one whose name is closest. */
function propertyNear(word: string, schema: BlockSchema): string | undefined {
  if (Object.hasOwn(schema.properties, word)) return word;
  return meant(word, Object.keys(schema.properties), 1)[0];
}
