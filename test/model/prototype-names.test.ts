/** Words that every JavaScript object knows are words like others: wherever one is allowed, it is read without an exception. */
import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { checkDocument } from '../../packages/language/src/checks/run.ts';
import { readDocument } from '../../packages/language/src/checks/text/read-document.ts';
import { oneIn } from '../long.ts';
import { Workspace } from '../references/memory-workspace.ts';

const NAMES = ['constructor', 'toString', '__proto__'];

const root = new URL('../fixtures/samples/', import.meta.url);
/** Without builds, which take longer: words of builds are exchanged at random by the fuzzer. */
const paths = readdirSync(root, { recursive: true, encoding: 'utf8' }).filter((path) => /^parts.*\.fettle$/.test(path));
const texts = Object.fromEntries(paths.map((path) => [path, readFileSync(new URL(path, root), 'utf8')]));

const alarms = (workspace: Workspace): string[] =>
  paths.flatMap((path) => {
    const { findings, defects } = checkDocument(readDocument(workspace.document(path)));
    return [
      ...defects.map(({ error }) => error.message),
      ...findings
        .flatMap(({ message, related }) => [message, ...related.map((one) => one.message)])
        .filter((message) => /undefined|NaN|Infinity|\[native code\]|\[object/.test(message)),
    ];
  });

const barn = Workspace.of({ 'a.fettle': '' });

describe('names of every object', () => {
  it.each([
    'pack P { lead: 60 mm }',
    'pack P { cells: 3S  lead: 60 mm  capacity: 450 Q }',
    ...NAMES.flatMap((name) => [
      `motor M { mass: 8.5 ${name} }`,
      `pack P { cells: 3 ${name}  capacity: 4 min 5 ${name}\n  plug: ${name}  plus: ${name} }`,
      `regulator R { type: ${name}  output: 5 V  rated: 7 V .. 26 V }`,
      `rules R {\n  keep 20 % in reserve on ${name}\n  raise ${name} to ${name}\n  note "x" for ${name}\n  require ${name} < 3 ${name} }`,
      `bench B { propeller: ${name}\n  rows ${name} ${name}, thrust gf {\n 1${name} 2, ${name}\n } }`,
      `${name} ${name} like ${name} { ${name}: ${name}.${name} }`,
      `use "${name}" as ${name}\nbuild ${name} { load: ${name}.${name} as ${name} from ${name}\n accept ${name} because "x" }`,
    ]),
  ])('%s', async (text) => {
    const workspace = await barn;
    await workspace.edit('a.fettle', text);
    const { findings, defects } = checkDocument(readDocument(workspace.document('a.fettle')));
    expect(defects).toEqual([]);
    expect(findings.length).toBeGreaterThan(0);
    for (const { message } of findings) expect(message).not.toMatch(/undefined|NaN|\[native code\]|\[object/);
  });

  it('in the place of each word of shared parts', async () => {
    const workspace = await Workspace.of(texts);
    expect(alarms(workspace)).toEqual([]);
    for (const path of paths) {
      const text = texts[path] ?? '';
      const words = [...text.matchAll(/[A-Za-z_]\w*/g)];
      for (const [index, { 0: word, index: start }] of oneIn(7, [...words.entries()])) {
        const name = NAMES[index % NAMES.length] ?? '';
        await workspace.edit(path, text.slice(0, start) + name + text.slice(start + word.length));
        expect(alarms(workspace), `${path}: ${name} for ${word} at ${start}`).toEqual([]);
      }
      await workspace.edit(path, text);
    }
  });
});
