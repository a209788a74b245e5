/** Pages that people write state what the code does: each feature has its test, each request and its types are those of the source. */
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { CHECK_FORMATS } from '../../packages/language/src/cli/formats.ts';
import { makeProgram } from '../../packages/language/src/cli/program.ts';
import { CAPABILITIES } from '../protocol/every-request.ts';

const root = join(import.meta.dirname, '../..');
const editor = join(root, 'packages/language/src/editor');
const page = (name: string) => readFileSync(join(root, 'packages/language/reference', name), 'utf8');
const sources = readdirSync(editor, { recursive: true, encoding: 'utf8' })
  .filter((file) => file.endsWith('.ts'))
  .map((file) => readFileSync(join(editor, file), 'utf8'));

describe('what the editor gives you', () => {
  const lines = page('editor.md')
    .split('\n')
    .filter((line) => line.startsWith('|'))
    .map((line) => line.split('|').map((cell) => cell.trim()));
  // The first two are the head of the table.
  const rows = lines.slice(2).map(([_, feature = '', _says, held = '']) => {
    const [, file = '', name = ''] = /^`([^`]+)`(?:: (.+))?$/.exec(held) ?? [];
    return { feature, file, name };
  });

  it('has rows', () => {
    expect(rows.length).toBeGreaterThan(20);
  });

  it.each(Object.entries(CAPABILITIES))('%s: has its row', (_, { row }) => {
    expect(rows.map(({ feature }) => feature)).toContain(row);
  });

  it.each(rows)('$feature: has its test', ({ file, name }) => {
    const path = join(root, 'test', file);
    expect(file !== '' && existsSync(path)).toBe(true);
    // A marked file is one case, without a name of its own.
    if (/^marked\/.*\.fettle$/.test(file)) return expect(name).toBe('');
    const text = readFileSync(path, 'utf8');
    expect(["'", '"', '`'].some((quote) => text.includes(quote + name + quote))).toBe(true);
  });
});

describe('beyond the protocol', () => {
  const reported = page('protocol.md');

  it('has every type as the source has it', () => {
    const requests = readdirSync(join(editor, 'requests'));
    const types = requests.flatMap((file) => {
      const text = readFileSync(join(editor, 'requests', file), 'utf8');
      return [...text.matchAll(/^export (?:interface .*?^}|type [^;]+;)$/gms)].map(([declaration]) => declaration);
    });
    expect(types.length).toBeGreaterThan(5);
    expect(types.filter((declaration) => !reported.includes(declaration))).toEqual([]);
    const shown = [...reported.matchAll(/^export \w+ (\w+)/gm)].map(([, name]) => name);
    expect(shown).toHaveLength(types.length);
  });

  it('names every request and command of ours, and no other', () => {
    const inSource = new Set(
      sources.flatMap((text) => [...text.matchAll(/'(fettle[/.][a-zA-Z]+)'/g)].map(([, name]) => name)),
    );
    const inPage = new Set([...reported.matchAll(/`(fettle[/.][a-zA-Z]+)`/g)].map(([, name]) => name));
    expect([...inPage].sort()).toEqual([...inSource].sort());
  });
});

/** The rows of a table that begin with a command, by its name: "`fettle compare …`, `list`" is the row of two. */
function commandsIn(path: string): Map<string, string> {
  const text = readFileSync(join(root, path), 'utf8');
  return new Map(
    text
      .split('\n')
      .filter((line) => line.startsWith('| `fettle '))
      .flatMap((line) => {
        const [, named = ''] = line.split(' | ')[0]?.split('| ') ?? [];
        const names = [...named.matchAll(/`(?:fettle )?([a-z]+)[^`]*`/g)].map(([, name = '']) => name);
        return names.map((name): [string, string] => [name, line]);
      }),
  );
}

describe('the command', () => {
  const program = makeProgram();
  const commands = program
    .createHelp()
    .visibleCommands(program)
    .map((command) => command.name())
    .filter((name) => name !== 'help');

  it.each(['README.md', 'packages/language/README.md'])('%s: has each in its table, and no other', (path) => {
    expect([...commandsIn(path).keys()].sort()).toEqual(commands.sort());
  });

  it.each(CHECK_FORMATS.slice(1))('the row of `fettle check` names the format %s', (format) => {
    expect(commandsIn('README.md').get('check')).toMatch(new RegExp(`\\b${format}\``));
  });
});
