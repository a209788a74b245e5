import { readdirSync, readFileSync } from 'node:fs';
import { type AstNode, type CstNode, CstUtils } from 'langium';
import { describe, expect, it } from 'vitest';
import { referenceProblems } from '../../packages/language/src/checks/text/name-problems.ts';
import { parse } from '../../packages/language/src/grammar/parse-text.ts';
import { LIBRARY_FOLDER } from '../../packages/language/src/resolve/keys.ts';
import { referencesIn } from '../../packages/language/src/resolve/linker.ts';
import { nodesIn } from '../../packages/language/src/syntax/nodes.ts';
import { LIBRARY } from '../../packages/language/src/workspace/generated/library.ts';
import { copyOf } from '../../packages/language/src/workspace/tree-copy.ts';
import { Workspace } from './memory-workspace.ts';

const folder = new URL('../../packages/language/library/', import.meta.url);

describe('the shipped parts', () => {
  it('are embedded as they are in their folder (npm run generate)', () => {
    const names = readdirSync(folder).sort();
    expect(LIBRARY).toEqual(names.map((name) => ({ name, text: readFileSync(new URL(name, folder), 'utf8') })));
  });

  it('are in scope everywhere, behind everything else of the name', async () => {
    const workspace = await Workspace.of({ 'a/a.fettle': 'build A { load: Lamp }', 'b/b.fettle': 'load Lamp { }' });
    expect(workspace.reported('a/a.fettle')).toEqual([]);
    expect(workspace.meanings('a/a.fettle')).toEqual([expect.stringContaining('part Lamp in /parts/')]);
    await workspace.edit('a/a.fettle', 'use "../b"\nbuild A { load: Lamp }');
    expect(workspace.meanings('a/a.fettle')).toEqual(['Lamp -> part Lamp in b/b.fettle']);
  });

  it('have no mistake in their names', async () => {
    const workspace = await Workspace.of({});
    const { LangiumDocuments } = workspace.services.shared.workspace;
    const documents = LangiumDocuments.all.filter(({ uri }) => uri.toString().startsWith(LIBRARY_FOLDER)).toArray();
    expect(documents).toHaveLength(LIBRARY.length);
    expect(documents.flatMap(referenceProblems)).toEqual([]);
  });

  it.each(LIBRARY)('are copied whole: $name', ({ text }) => {
    const { value: original } = parse(text);
    const copy = copyOf(original, new Workspace().services.fettle.references.Linker);
    expect(nodesIn(copy).map(described)).toEqual(nodesIn(original).map(described));
    expect(placesIn(copy).map(placed)).toEqual(placesIn(original).map(placed));
    const shared = new Set<unknown>([...nodesIn(original), ...placesIn(original)]);
    expect([...nodesIn(copy), ...placesIn(copy)].filter((one) => shared.has(one))).toEqual([]);
    expect(nodesIn(copy).every(({ $cstNode }) => $cstNode?.root === copy.$cstNode)).toBe(true);
    expect(nodesIn(copy).filter(({ $cstNode }) => shared.has($cstNode?.astNode))).toEqual([]);
    expect(placesIn(copy).filter(({ astNode }) => shared.has(astNode))).toEqual([]);
    expect(referencesIn(copy).length).toBeGreaterThan(0);
    expect(referencesIn(copy).every(({ $refNode, $refText }) => $refNode?.text === $refText)).toBe(true);
  });
});

const placesIn = ({ $cstNode }: AstNode): CstNode[] => ($cstNode ? CstUtils.streamCst($cstNode).toArray() : []);

/** All of a node but the nodes below it. */
const described = (node: AstNode) => [
  Object.entries(node).map(([key, value]) => (typeof value === 'object' ? key : [key, value])),
  [node.$container?.$type, node.$cstNode?.text, node.$cstNode?.astNode === node],
];

const placed = ({ offset, end, text, range, grammarSource, astNode, container }: CstNode) => [
  [offset, end, text, range, astNode.$type, container?.offset],
  grammarSource?.$cstNode?.text ?? grammarSource?.$type,
];
