/** A part that a folder has already, with the figures that a first build would declare. */
import type { PartNode } from '../grammar/generated/ast.ts';
import type { Part } from '../model/build.ts';
import { partOf } from '../model/parts.ts';
import { unitNamed } from '../units/parse.ts';
import { isFigureProperty, type PropertyName, schemaOf } from '../vocabulary/properties.ts';

/** Their figures name a product in the trade; what more is known of it is welcome. Of other kinds an equal part has no further lines. */
const IDENTIFIED: ReadonlySet<string> = new Set(['motor', 'propeller', 'pack']);

/**
 * Its name; undefined where there is none, or where several differ in what else they state.
 * @param figures by property, each in the property's usual unit
 */
export function equalPart(
  kind: PartNode['kind'],
  figures: ReadonlyMap<PropertyName, readonly number[]>,
  parts: readonly PartNode[],
): string | undefined {
  const once = parts.filter(({ name }) => parts.filter((one) => one.name === name).length === 1);
  const equal = once.filter((node) => {
    if (node.kind !== kind || node.name === undefined) return false;
    const part = partOf(node);
    return part.holes.size === 0 && [...figures].every(([property, wanted]) => hasFigure(part, property, wanted));
  });
  const bare = equal.filter(({ base, lines }) => base === undefined && lines.length === figures.size);
  if (bare.length > 0 || !IDENTIFIED.has(kind)) return bare[0]?.name;
  return equal.length === 1 ? equal[0]?.name : undefined;
}

/** Relative; two writings of one figure (`2.5 in`, `63.5 mm`) differ by rounding only. */
const SAME = 1e-9;

function hasFigure(part: Part, property: PropertyName, wanted: readonly number[]): boolean {
  const own = valuesOf(part, property);
  return (
    own.length === wanted.length &&
    own.every((value, i) => Math.abs(value - (wanted[i] ?? 0)) <= SAME * Math.abs(value))
  );
}

function valuesOf(part: Part, name: PropertyName): readonly number[] {
  const property = schemaOf(part.kind).properties[name];
  if (property?.shape === 'cells') {
    const cells = part.cells(property.name);
    return cells?.parallel === 1 ? [cells.series] : [];
  }
  const inUnit = property?.unit === undefined ? (value: number) => value : unitNamed(property.unit).fromSI;
  if (property?.shape === 'size') return part.size(property.name)?.sides.map(inUnit) ?? [];
  const figure = property && isFigureProperty(property) ? part.declared(property.name) : undefined;
  return figure === undefined ? [] : [inUnit(figure.value)];
}
