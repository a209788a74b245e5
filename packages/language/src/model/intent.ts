/** Which property a line is about, also when the word is misspelt or its colon is missing. */
import { isProperty, isUnknown, type Line } from '../grammar/generated/ast.ts';
import { nearest } from '../units/nearest.ts';
import type { BlockSchema } from '../vocabulary/schema.ts';

export function intendedProperty(line: Line, schema: BlockSchema): string | undefined {
  if (isProperty(line)) return propertyNear(line.key, schema);
  if (isUnknown(line)) return propertyNear(line.words[0] ?? '', schema);
  return undefined;
}

/** The property of that name, or the one whose name is closest. */
function propertyNear(word: string, schema: BlockSchema): string | undefined {
  if (Object.hasOwn(schema.properties, word)) return word;
  return nearest(word, Object.keys(schema.properties), 1)[0];
}
