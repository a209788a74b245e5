/** One name means one thing wherever it is imported. */
import { execFileSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import ts from 'typescript';
import { describe, expect, it } from 'vitest';

const root = join(import.meta.dirname, '../..');

/** The library has names of its own for those who import it. */
const EXCEPTED = /^packages\/language\/src\/index\.ts$/;

/** What VS Code calls of an extension, under this name: one in Node, one in a browser's worker. */
const ENTRIES_OF_VS_CODE = /^packages\/extension\/src\/extension-(?:node|browser)\.ts$/;
const CALLED_BY_VS_CODE: ReadonlySet<string> = new Set(['activate', 'deactivate']);

const sources = execFileSync('git', ['ls-files', 'packages/*.ts', 'packages/*.mts', '.github/*.ts'], {
  cwd: root,
  encoding: 'utf8',
})
  .split('\n')
  .filter((file) => file !== '' && !EXCEPTED.test(file));

/** A default export has none. */
const namesOf = ({ name }: ts.DeclarationStatement): string[] => (name === undefined ? [] : [name.text]);

/** One name, or those that a pattern takes apart. */
const boundBy = (name: ts.BindingName): string[] =>
  ts.isIdentifier(name)
    ? [name.text]
    : name.elements.flatMap((element) => (ts.isOmittedExpression(element) ? [] : boundBy(element.name)));

/** What a file declares and exports: types, and whatever else. */
function exportedBy(text: string): { readonly types: readonly string[]; readonly values: readonly string[] } {
  const [types, values]: [string[], string[]] = [[], []];
  for (const statement of ts.createSourceFile('read.ts', text, ts.ScriptTarget.Latest).statements) {
    const isExported =
      ts.canHaveModifiers(statement) &&
      ts.getModifiers(statement)?.some(({ kind }) => kind === ts.SyntaxKind.ExportKeyword);
    if (!isExported) continue;
    if (ts.isVariableStatement(statement))
      for (const { name } of statement.declarationList.declarations) values.push(...boundBy(name));
    else if (ts.isFunctionDeclaration(statement)) values.push(...namesOf(statement));
    else if (
      ts.isClassDeclaration(statement) ||
      ts.isInterfaceDeclaration(statement) ||
      ts.isTypeAliasDeclaration(statement)
    )
      types.push(...namesOf(statement));
  }
  return { types, values };
}

const exported = sources.map((file) => ({ file, ...exportedBy(readFileSync(join(root, file), 'utf8')) }));

describe.each(['types', 'values'] as const)('exported %s', (sort) => {
  it('have their names alone', () => {
    const files = new Map<string, string[]>();
    for (const { file, [sort]: names } of exported)
      for (const name of new Set(names)) {
        const isPrescribed = ENTRIES_OF_VS_CODE.test(file) && CALLED_BY_VS_CODE.has(name);
        if (!isPrescribed) files.set(name, [...(files.get(name) ?? []), file]);
      }
    expect(files.size).toBeGreaterThan(500);
    expect([...files].filter(([, declaredIn]) => declaredIn.length > 1)).toEqual([]);
  });
});
