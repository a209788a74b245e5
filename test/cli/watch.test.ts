/** `fettle check --watch`: what a change touches is checked again, and nothing else; Ctrl-C ends it. */
import { type ChildProcess, spawn } from 'node:child_process';
import { mkdirSync, readFileSync, renameSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, afterEach, describe, expect, it } from 'vitest';
import { Session } from '../../packages/language/src/cli/watch-command.ts';
import { cases } from '../long.ts';
import { command, Workshop } from './command.ts';

const shop = new Workshop();
afterAll(() => shop.remove());
const at = (path: string) => join(shop.folder, path);
const read = (path: string) => readFileSync(at(path), 'utf8');

const running: ChildProcess[] = [];
afterEach(() => {
  for (const child of running.splice(0)) child.kill('SIGKILL');
});

class Watching {
  readonly #child: ChildProcess;
  #out = '';
  readonly #waiting: (() => void)[] = [];
  readonly ended: Promise<number | null>;

  constructor(...args: string[]) {
    this.#child = spawn(process.execPath, [command, 'check', '--watch', ...args], {
      cwd: shop.folder,
      env: { ...process.env, NO_COLOR: '1' },
    });
    running.push(this.#child);
    for (const stream of [this.#child.stdout, this.#child.stderr])
      stream?.setEncoding('utf8').on('data', (text: string) => {
        this.#out += text;
        for (const go of this.#waiting.splice(0)) go();
      });
    this.ended = new Promise((resolve) => {
      this.#child.on('exit', (code) => resolve(code));
    });
  }

  /** All that it stated since the last call, once that contains the text. */
  async until(text: RegExp): Promise<string> {
    while (!text.test(this.#out)) await new Promise<void>((resolve) => this.#waiting.push(resolve));
    const printed = this.#out;
    this.#out = '';
    return printed;
  }

  async end(signal: NodeJS.Signals = 'SIGINT'): Promise<number | null> {
    this.#child.kill(signal);
    return this.ended;
  }
}

describe('fettle check --watch', () => {
  it('reports how the builds that a change touches have changed, and ends clean with Ctrl-C', async () => {
    const builds = cases(3, 6);
    const files = builds + 1;
    for (const name of ['belfry', 'rafter', 'wren'].slice(builds - 3)) rmSync(at(`examples/builds/${name}.fettle`));
    const watching = new Watching('examples/builds');
    const first = await watching.until(/watching; Ctrl-C ends it/);
    expect(first).toMatch(new RegExp(`^${files} files, ${builds} builds: `, 'm'));

    shop.write('examples/parts/motors.fettle', read('examples/parts/motors.fettle').replace('14.7 g', '19.4 g'));
    const parts = await watching.until(new RegExp(`in all ${files} files`));
    expect(parts).toMatch(
      new RegExp(` {2}changed examples/parts/motors\\.fettle: [${builds}${files}] files checked anew`),
    );
    expect(parts).toMatch(/^Gable /m);
    // As a review does against a commit: before → after, the difference with its ±, and the line that caused it.
    expect(parts).toMatch(/^since the last save: Look at this: 1 new warning$/m);
    expect(parts).toMatch(/^ {4}all-up weight {2,}245\.3 → 264\.\d g, \+18\.\d ± [\d.]+ g$/m);
    expect(parts).toMatch(
      /^ {2}because of mass of motor M1606_3150: 14\.7 g measured → 19\.4 g measured {2}examples\/parts\/motors\.fettle:\d+$/m,
    );
    // What was observed on one build of the folder is used by the others that share its motor.

    shop.write('examples/builds/spire.fettle', `${read('examples/builds/spire.fettle')}\nmotor Half {\n  kv: `);
    const half = await watching.until(new RegExp(`in all ${files} files, ${builds} builds: .*error`));
    expect(half).toMatch(/changed examples\/builds\/spire\.fettle: 2 files checked anew/);
    expect(await watching.end()).toBe(1);
  });

  it.each(['rows.csv', 'rows.tsv'])('follows the table %s that a stand reads its rows from', async (table) => {
    const row = (duty: string) => `"duty"\t"thrust"\n${duty}\t200\n100\t400\n`;
    shop.write(`stand/${table}`, row('50'));
    shop.write(
      'stand/stand.fettle',
      `use "../examples/parts"\nbench T {\n  motor: M1606_3150\n  propeller: P3024x3\n  rows duty in % "duty", thrust in gf "thrust" from "${table}"\n}\n`,
    );
    const watching = new Watching('stand');
    await watching.until(/watching/);
    shop.write(`stand/${table}`, row('high'));
    expect(await watching.until(/in all 1 file/)).toContain(`changed stand/${table}`);
  });

  it('lives with files that come, are renamed and go', async () => {
    shop.write('flux/parts/item.fettle', 'item Strap2 { mass: 3 g }\n');
    shop.write('flux/a.fettle', 'use "parts"\nbuild A { item: Strap2 }\n');
    const watching = new Watching('flux');
    await watching.until(/watching/);

    shop.write('flux/new/b.fettle', 'item B { mass: 3 mm }\n');
    expect(await watching.until(/in all 3 files, 1 build: 2 errors/)).toContain('flux/new/b.fettle:1:18  error');
    renameSync(at('flux/new'), at('flux/newer'));
    expect(await watching.until(/in all 3 files/)).toMatch(/changed flux\/newer\/b\.fettle; gone flux\/new\/b\.fettle/);
    rmSync(at('flux/newer'), { recursive: true });
    expect(await watching.until(/in all 2 files/)).toContain('gone flux/newer/b.fettle');

    // The part goes: who names it is reported.
    rmSync(at('flux/parts/item.fettle'));
    expect(await watching.until(/in all 1 file/)).toMatch(/flux\/a\.fettle:1:5 {2}error {2}use-missing/);
    shop.write('flux/parts/item.fettle', 'item Strap2 { mass: 3 g }\n');
    const back = await watching.until(/in all 2 files/);
    expect(back).not.toMatch(/:\d+ {2}error {2}use-missing/);
    expect(back).toMatch(/^resolved error {2}use-missing {2}flux\/a\.fettle:1$/m);

    shop.write('flux/bytes.fettle', Uint8Array.of(0, 1, 2));
    expect(await watching.until(/in all/)).toMatch(/not judged {2}flux\/bytes\.fettle/);
    rmSync(at('flux/bytes.fettle'));
    expect(await watching.until(/in all/)).not.toMatch(/not judged/);
    expect(await watching.end('SIGTERM')).toBe(1);
  });

  it('waits for what is not there yet', async () => {
    const watching = new Watching('later/mine');
    expect(await watching.until(/watching/)).toContain('there is no such file or folder');
    mkdirSync(at('later/mine'), { recursive: true });
    shop.write('later/mine/item.fettle', 'item Late { mass: 3 g }\n');
    await watching.until(/in all 1 file, 0 builds: nothing found/);
    expect(await watching.end()).toBe(0);
  });

  it('prints text only', () => {
    expect(shop.fettle('check', '--watch', '--format', 'json')).toMatchObject({ code: 2, out: '' });
  });
});

describe('a watched workspace', () => {
  it('compares each save with the one before, not with the first', async () => {
    const craft = (grams: number) => `build Step {\n  item: ${grams} g "ballast"\n  dry_mass: ${grams} g\n}\n`;
    shop.write('steps/a.fettle', craft(100));
    const session = new Session([at('steps/a.fettle')]);
    await session.begin();
    const changes: (string | undefined)[] = [];
    for (const grams of [130, 100, 100]) {
      shop.write('steps/a.fettle', `${craft(grams)}// ${changes.length}\n`);
      const since = (await session.refresh())?.since;
      const causes = since?.builds.flatMap((build) => build.causes.map(({ change }) => change)) ?? [];
      changes.push(causes.length === 0 ? 'the same' : since?.builds[0]?.name);
    }
    expect(changes).toEqual(['Step', 'Step', 'the same']);
  });

  it('checks again only what the change can reach', async () => {
    const folder = 'reach';
    for (let i = 0; i < 20; i++) {
      shop.write(`${folder}/builds/b${i}.fettle`, `use "../parts/p${i % 2}.fettle"\nbuild B${i} { item: P${i % 2} }\n`);
    }
    for (const i of [0, 1]) shop.write(`${folder}/parts/p${i}.fettle`, `item P${i} { mass: 3 g }\n`);
    const session = new Session([at(folder)]);
    await session.begin();
    expect(await session.refresh()).toBeUndefined();

    shop.write(`${folder}/builds/b3.fettle`, 'use "../parts/p1.fettle"\nbuild B3 { item: 2 x P1 }\n');
    const one = await session.refresh();
    expect([one?.touched.files, one?.run.files]).toEqual([1, 22]);

    shop.write(`${folder}/parts/p0.fettle`, 'item P0 { mass: 30 g }\n');
    expect((await session.refresh())?.touched.files).toBe(11);
    expect(await session.refresh()).toBeUndefined();
  });
});
