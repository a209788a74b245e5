/** The command as a person runs it: command lines in, output and exit code out. Needs the build. */
import { spawnSync } from 'node:child_process';
import { chmodSync, symlinkSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { where } from '../where.ts';
import { command, Workshop } from './command.ts';

const shop = new Workshop();
afterAll(() => shop.remove());
const fettle = shop.fettle.bind(shop);
const write = shop.write.bind(shop);
const { folder } = shop;

describe('fettle check', () => {
  const ofExamples = fettle('check', 'examples/builds');

  it('finds nothing worse than a note in the examples, and shows the results of each build', () => {
    const { code, out } = ofExamples;
    expect(out).not.toMatch(/ {2}(error|warning) {2}/);
    expect(out).toMatch(/^Gable {2}Gable, gutters and outer walls {2}examples\/builds\/gable\.fettle$/m);
    expect(out).toMatch(/^ {2}Eaves1150_3S +\d+\.\d ± \d\.\d g +3150 ± \d+ rpm\/V/m);
    expect(out).toMatch(/^7 files, 6 builds: \d+ notes?, \d+ hints$/m);
    expect(code).toBe(0);
  });

  it('has a column for the effective kV only where a duty limit makes it another one than the motor’s', () => {
    const { out } = fettle('check', 'examples/builds/gable.fettle', 'examples/builds/spire.fettle');
    const [gable, spire] = out.split(/^(?=Spire )/m);
    expect(gable).toMatch(/^ {2}pack +all-up +effective kV +thrust-to-weight/m);
    expect(spire).toMatch(/^ {2}pack +all-up +thrust-to-weight/m);
    const markdown = fettle('check', 'examples/builds/spire.fettle', '--format', 'markdown').out;
    expect(markdown).toContain('| pack | all-up | thrust-to-weight |');
  });

  it('points at an error with file, line, column, an excerpt, the reason and the fix; exit code 1', () => {
    const { code, out } = fettle('check', 'examples/broken/kilovolts.fettle');
    expect(code).toBe(1);
    expect(out).toContain('examples/broken/kilovolts.fettle:5:12  error  wrong-dimension');
    expect(out).toContain('    5 |   kv: 3150 kV\n      |            ^^');
    expect(out).toMatch(/fix: change to rpm\/V/);
  });

  it('does not pass a file for a newer version of the language: what it states is not judged', () => {
    const newer = write('newer.fettle', 'fettle 9\nmotor M {\n  kv: 3150 kV\n  mas: 3 g\n}\n');
    const { code, out } = fettle('check', newer);
    expect(out).toContain('newer.fettle:1:8  error  newer-version');
    expect(out).toMatch(/so it is not\s+judged: update Fettle/);
    expect(out).toMatch(/^1 file, 0 builds: 1 error$/m);
    expect(code).toBe(1);
  });

  it('states on which pack, and offers what it computed as the cure', () => {
    const { out } = fettle('check', 'examples/broken/one-cell-more.fettle');
    expect(out).toContain(
      'examples/broken/one-cell-more.fettle:18:3  note  motor-overvoltage  OneCellMore on Mast950_5S',
    );
    expect(out).toContain('   18 |   pack: Mast950_5S\n      |   ^^^^^^^^^^^^^^^^');
    expect(out).toMatch(/fix: Limit the duty to 77 %/);
  });

  it('states once what is estimated in all builds, and what to measure first', () => {
    const { out } = ofExamples;
    expect(out.match(/hint {2}estimates/g)).toHaveLength(1);
    expect(out).toMatch(/^hint {2}estimates {2}\d builds /m);
    expect(out).toMatch(/ what the charger puts back into Mast1350_4S .*: Belfry$/m);
  });

  it('fails at the requested severity', () => {
    const warning = 'examples/broken/camera-off-the-pack.fettle';
    expect(fettle('check', warning).code).toBe(0);
    expect(fettle('check', warning, '--fail-on', 'warning').code).toBe(1);
    expect(fettle('check', 'examples/builds/first.fettle', '--fail-on', 'information').code).toBe(1);
  });

  it('gives the same as JSON: results with unit and ±, findings with 1-based ranges', () => {
    const { code, out } = fettle('check', 'examples/broken/receiver-off-the-pack.fettle', '--format', 'json');
    expect(code).toBe(1);
    const printed = JSON.parse(out);
    expect(printed.version).toBe(1);
    const [build] = printed.builds;
    expect(build).toMatchObject({ name: 'ReceiverOffThePack', file: 'examples/broken/receiver-off-the-pack.fettle' });
    const [option] = build.options;
    expect(option).toMatchObject({ pack: 'Eaves1150_3S', dutyLimit: 1 });
    expect(option.results.all_up_weight).toEqual({
      value: expect.any(Number),
      unit: 'g',
      plusMinus: expect.any(Number),
      low: expect.any(Number),
      high: expect.any(Number),
    });
    // Known worse than ±20 %: further up than down.
    const { value, plusMinus, low, high } = option.results.full_current;
    expect(plusMinus).toBeGreaterThan(0.2 * value);
    expect(high / value).toBeCloseTo(value / low, 4);
    expect(high).toBeGreaterThan(value + plusMinus);
    expect(option.results.effective_kv).toMatchObject({ value: expect.closeTo(3150, 0), unit: 'rpm/V' });
    const finding = printed.findings.find(({ id }: { id: string }) => id === 'rail-overvoltage');
    expect(finding).toMatchObject({
      severity: 'error',
      file: 'examples/broken/receiver-off-the-pack.fettle',
      range: { start: { line: 7, column: 3 }, end: { line: 7, column: 27 } },
      build: 'ReceiverOffThePack',
      pack: 'Eaves1150_3S',
    });
    expect(finding.numbers.maximum).toMatchObject({ value: 5.5, unit: 'V' });
  });

  it('states the same whatever the line endings, and counts columns past astral characters as editors do', () => {
    write('ends/lf.fettle', 'item Owl { note "🦉🦉"  mass: 3 mm }\n');
    const { out } = fettle('check', 'ends', '--format', 'json');
    expect(JSON.parse(out).findings[0].range.start).toEqual({ line: 1, column: 33 });
    write('ends/lf.fettle', '\r\nitem Owl {\r\n  mass: 3 mm\r\n}\r\n');
    expect(JSON.parse(fettle('check', 'ends', '--format', 'json').out).findings[0].range.start).toEqual({
      line: 3,
      column: 11,
    });
  });

  it('reports what is wrong in the parts that a build is made of, wherever they are; not in others', () => {
    shop.write(
      'parts/packs.fettle',
      'pack Tired {\n  cells: 3S\n  capacity: 480 kg\n}\npack Other {\n  cells: 2 kg\n}\n',
    );
    for (const name of ['One', 'Two'])
      shop.write(
        `builds/${name}.fettle`,
        `use "../parts"\nuse "../examples/builds"\nbuild ${name} like Gable {\n  pack: Tired\n}\n`,
      );
    const { code, out } = shop.fettle('check', 'builds');
    expect(code).toBe(1);
    expect(out.match(/^parts\/packs\.fettle:3:\d+ {2}error {2}wrong-dimension/gm)).toHaveLength(1);
    expect(out).not.toContain('Other');
    expect(out).toMatch(/2 files, 2 builds: 1 error/);
    expect(shop.fettle('check', 'builds', 'parts').out.match(/packs\.fettle:3:/g)).toHaveLength(1);
    expect(shop.fettle('card', 'One', '--in', 'builds').out).toMatch(/^Not fit to fly: 1 error/m);
    expect(shop.fettle('sheet', 'One', 'builds', '--format', 'markdown').out).toMatch(/480 kg|wrong-dimension/);
  });

  it('reports a part that is declared twice, whichever of the two is used', () => {
    const real = 'pack Twin {\n  cells: 3S\n  capacity: 1200 mAh\n}\n';
    shop.write('twice/packs.fettle', `${real}${real.replace('1200', '2000')}`);
    shop.write(
      'flying/Three.fettle',
      'use "../twice"\nuse "../examples/builds"\nbuild Three like Gable {\n  pack: Twin\n}\n',
    );
    const { code, out } = shop.fettle('check', 'flying');
    expect(code).toBe(1);
    expect(out).toMatch(/^twice\/packs\.fettle:5:6 {2}error {2}duplicate/m);
    expect(shop.fettle('card', 'Three', '--in', 'flying').out).toMatch(/^Not fit to fly: 1 error/m);
  });

  it('lets nothing in a file drive the terminal', () => {
    write('hostile/a.fettle', 'item A "\u001b]0;owned\u0007\u001b[31m" { mass: 3 mm }\n');
    expect(fettle('check', 'hostile').out).not.toContain('\u001b');
  });
});

describe('what cannot be read', () => {
  it('gets one message each; the others are checked all the same; exit code 2', () => {
    write('bad/good.fettle', 'item Good { mass: 3 mm }\n');
    write(
      'bad/binary.fettle',
      Uint8Array.from({ length: 400 }, (_, index) => index % 256),
    );
    write('bad/brackets.fettle', `item A { mass: ${'('.repeat(5000)} }\n`);
    write('bad/huge.fettle', '//'.padEnd(50_000_000, 'x'));
    symlinkSync(join(folder, 'nowhere'), join(folder, 'bad/gone.fettle'));
    symlinkSync('..', join(folder, 'bad/loop'));
    const { code, out, err } = fettle('check', 'bad', 'missing');
    expect(code).toBe(2);
    expect(err).toBe('');
    const notRead = [...out.matchAll(/^not judged {2}([^:]+): /gm)].map(([, path]) => path);
    expect(notRead.toSorted()).toEqual(['bad/binary.fettle', 'bad/gone.fettle', 'bad/huge.fettle', 'missing']);
    expect(out).toContain('bad/good.fettle:1:21  error  wrong-dimension');
    expect(out.match(/bad\/brackets\.fettle:\d+:\d+ {2}error {2}syntax/g)).toHaveLength(1);
    for (const line of out.split('\n')) expect(line.length).toBeLessThan(200);
  });

  where(process.getuid?.() !== 0, 'a user who is not root: root reads every file')(
    'an unreadable file gets one message',
    () => {
      chmodSync(write('locked/a.fettle', 'item A { }\n'), 0o000);
      const { code, out } = fettle('check', 'locked');
      expect(code).toBe(2);
      expect(out).toMatch(/^not judged {2}locked\/a\.fettle: /m);
    },
  );

  it('a folder without any file is no clean run', () => {
    shop.write('bare/readme.txt', 'nothing here\n');
    expect(fettle('check', 'bare')).toMatchObject({ code: 2, out: 'no .fettle file was checked\n' });
  });

  it('a reader who stops reading is no error', () => {
    const { status, stderr } = spawnSync(
      'sh',
      [
        '-c',
        `"${process.execPath}" "${command}" check examples/builds/gable.fettle --format json --explain | head -c 1`,
      ],
      {
        cwd: shop.folder,
        encoding: 'utf8',
      },
    );
    expect({ status, stderr }).toEqual({ status: 0, stderr: '' });
  });

  it('a file of another sort is refused by name', () => {
    write('notes.txt', 'motor A { }\n');
    const { code, out } = fettle('check', 'notes.txt');
    expect(code).toBe(2);
    expect(out).toContain('not judged  notes.txt: this is not a .fettle file');
  });
});

describe('the command line', () => {
  it('reports its version and its help', () => {
    expect(fettle('--version')).toMatchObject({
      code: 0,
      out: expect.stringMatching(/^0\.1\.0(\+[0-9a-f]{8}(\.changed)?)?\n$/),
    });
    const { code, out } = fettle('check', '--help');
    expect(code).toBe(0);
    expect(out).toContain('--fail-on');
    expect(fettle('help', 'check').out).toBe(out);
    expect(fettle('help').out).toBe(fettle('--help').out);
    expect(fettle().err).toBe(fettle('--help').out);
  });

  it.each([['bogus'], ['check', '--format', 'xml'], ['check', '--fail-on', 'never'], ['check', '--nonsense']])(
    'refuses %s %s %s with exit code 2 and states what is allowed',
    (...args) => {
      const { code, out, err } = fettle(...args.filter((arg) => arg !== undefined));
      expect(code).toBe(2);
      expect(out).toBe('');
      expect(err).toMatch(/^error: /);
      expect(err).not.toMatch(/\n\s+at /);
    },
  );
});

describe('fettle explain', () => {
  it('goes from the number to the formula, the figures with their lines, and the source', () => {
    const { code, out } = fettle('explain', 'effective_kv', 'Gable', 'examples/builds', '--with', 'Round2600_3S');
    expect(code).toBe(0);
    expect(out).toMatch(/^effective_kv of Gable on Round2600_3S: 2990 ± \d+ rpm\/V$/m);
    expect(out).toMatch(/K_eff = K·d/);
    expect(out).toMatch(/K += 3150 ± \d+ rpm\/V +kv of M1606_3150 +claimed, examples\/parts\/motors\.fettle:7:7/);
    expect(out).toMatch(/^Source: /m);
  });

  it('leads from one result to those it rests on', () => {
    const { out } = fettle('explain', 'hover_time', 'Gable', 'examples/builds', '--with', 'Eaves1150_3S');
    expect(out).toContain('fettle explain hover_current Gable');
  });

  it.each([
    ['hover_tme', 'Gable', 'there is no result hover_tme; did you mean hover_time?'],
    ['hover_time', 'Gabel', 'there is no build Gabel; did you mean Gable?'],
  ])('refuses %s of %s, with the likely name', (result, build, message) => {
    expect(fettle('explain', result, build, 'examples/builds')).toMatchObject({ code: 2, err: `fettle: ${message}\n` });
  });

  it('is with each result of the JSON on request', () => {
    const { out } = fettle('check', 'examples/builds/gable.fettle', '--format', 'json', '--explain');
    const { results } = JSON.parse(out).builds[0].options[0];
    for (const name of ['hover_time', 'thrust_to_weight', 'full_current', 'all_up_weight']) {
      expect(results[name].derivation).toMatchObject({ formula: expect.any(String), source: expect.any(String) });
      expect(results[name].derivation.terms.length).toBeGreaterThan(0);
    }
    // A sum is a straight line; a quotient of errors of some 40 % is one in its logarithm.
    const { value, plusMinus, straightLine } = results.all_up_weight;
    expect(straightLine).toMatchObject({ holds: true });
    expect(straightLine.high / (value + plusMinus)).toBeCloseTo(1, 3);
    const stall = results.stall_current;
    expect(stall.straightLine.holds).toBe(true);
    expect(stall.straightLine.high).toBeGreaterThan(stall.value + stall.plusMinus);
  });

  it('marks what calibrated a build as doubtful while one measurement contradicts the others', () => {
    const doubt = 'each ± includes both';
    const flown = (current: string) =>
      `use "examples/builds"\nbuild Doubted like Spire {\n  observed "south tower" with Mast1050_4S { hover_current: ${current} }\n}\n`;
    for (const [current, isInDoubt] of [
      ['5.2 A', false],
      ['9 A', true],
    ] as const) {
      shop.write('doubted.fettle', flown(current));
      const outputs = [
        shop.fettle('check', 'doubted.fettle').out,
        shop.fettle('sheet', 'Doubted', 'doubted.fettle').out,
        shop.fettle('explain', 'hover_time', 'Doubted', 'doubted.fettle').out,
      ];
      for (const out of outputs) {
        expect(out).toMatch(/calibrated by .*“south tower”/i);
        expect(out.replace(/\s+/g, ' ').includes(doubt)).toBe(isInDoubt);
      }
    }
  });
});
