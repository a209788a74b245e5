import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import {
  isFigureNode,
  isNamedNode,
  isPropertyNode,
  isRailNode,
  type Line,
  type PartNode,
} from '../../packages/language/src/grammar/generated/ast.ts';
import { format } from '../../packages/language/src/grammar/layout.ts';
import { parse } from '../../packages/language/src/grammar/parse-text.ts';
import { unitNamed } from '../../packages/language/src/units/parse.ts';
import { estimateOf, type KnownFigures } from '../../packages/language/src/vocabulary/estimators.ts';
import { schemaOf } from '../../packages/language/src/vocabulary/properties.ts';
import type { BlockKind } from '../../packages/language/src/vocabulary/schema.ts';

const folder = new URL('../../packages/language/library/', import.meta.url);
const files = readdirSync(folder).filter((name) => name.endsWith('.fettle'));

describe.each(files)('%s', (name) => {
  const text = readFileSync(new URL(name, folder), 'utf8');
  const { value: file, lexerErrors, parserErrors } = parse(text);

  it('reads without an error and is formatted', () => {
    expect([...lexerErrors, ...parserErrors]).toEqual([]);
    expect(file.unknowns).toEqual([]);
    expect(format(text)).toBe(text);
  });

  it('has no name twice', () => {
    const names = file.parts.map((part) => part.name);
    expect(names.filter((each, index) => names.indexOf(each) !== index)).toEqual([]);
  });

  it.each(file.parts.map((part) => ({ part, name: part.name })))(
    '$name states only what its kind has, plausibly',
    ({ part }) => {
      checkLines(part.kind as BlockKind, part.lines);
      for (const rail of part.lines.filter(isRailNode)) checkLines('rail', rail.lines);
    },
  );

  it.each(file.parts.map((part) => ({ part, name: part.name })))(
    '$name needs no more than a kv to compute',
    ({ part }) => {
      const stated = new Set([
        ...part.lines.filter(isPropertyNode).map((line) => line.key),
        ...(part.kind === 'motor' ? ['kv'] : []),
      ]);
      const missing = Object.values(schemaOf(part.kind as BlockKind).properties)
        .filter((property) => property.required && !stated.has(property.name))
        .map((property) => property.name);
      expect(missing).toEqual([]);
      expect(stated.has('mass')).toBe(true);
    },
  );

  it('has motors whose size and mass belong together', () => {
    // Two estimates of one resistance, by size and by mass, each within its own scatter.
    for (const motor of file.parts.filter((part) => part.kind === 'motor')) {
      const bySize = estimateOf('motor', 'resistance');
      const known = knownOf(motor);
      const ratio = Number(bySize?.value(known)) / Number(bySize?.otherwise?.value(known));
      expect(Math.abs(Math.log(ratio)), `${motor.name}: ${ratio}`).toBeLessThan(0.85);
    }
  });
});

function checkLines(kind: BlockKind, lines: readonly Line[]): void {
  for (const line of lines) {
    if (isRailNode(line)) continue;
    expect(isPropertyNode(line)).toBe(true);
    if (!isPropertyNode(line)) continue;
    const property = schemaOf(kind).properties[line.key];
    expect(property, `${kind}.${line.key}`).toBeDefined();
    if (isNamedNode(line.value)) expect(property?.words).toContain(line.value.$cstNode?.text);
    if (!isFigureNode(line.value) || !property?.plausible || !property.unit || property.shape === 'cells') continue;
    const unit = line.value.unit ?? line.value.sides.at(-1)?.unit ?? '';
    const value = unitNamed(property.unit).fromSI(unitNamed(unit).toSI(Number(line.value.number)));
    expect(value, `${kind}.${line.key}`).toBeGreaterThanOrEqual(property.plausible[0]);
    expect(value, `${kind}.${line.key}`).toBeLessThanOrEqual(property.plausible[1]);
  }
}

function knownOf(motor: PartNode): KnownFigures {
  const figures = new Map<string, number>([['kv', 500]]);
  for (const line of motor.lines) {
    if (!isPropertyNode(line) || !isFigureNode(line.value)) continue;
    const sides = [line.value, ...line.value.sides].map((side) => Number(side.number) / 1000);
    if (line.key === 'mass') figures.set('mass', sides[0] ?? 0);
    schemaOf('motor').properties[line.key]?.sides?.forEach((side, index) => {
      figures.set(`${line.key}.${side}`, sides[index] ?? 0);
    });
  }
  return { number: (path) => figures.get(path), word: () => undefined, dimension: () => undefined };
}
