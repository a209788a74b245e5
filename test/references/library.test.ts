import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { referenceProblems } from '../../packages/language/src/checks/text/name-problems.ts';
import { LIBRARY_FOLDER } from '../../packages/language/src/resolve/keys.ts';
import { LIBRARY } from '../../packages/language/src/workspace/generated/library.ts';
import { Workspace } from './workspace.ts';

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
});
