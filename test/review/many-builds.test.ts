/** A change that many builds rest on: one table, what is alike once, details behind. Needs the build. */
import { describe, expect, it } from 'vitest';
import { CRAFT, Repository } from './repository.ts';

const MOTORS = 'parts/motors.fettle';

/** Thirteen builds on the same parts, each of another weight. */
function fleet(): Repository {
  const { 'builds/quiet.fettle': _, 'builds/eave.fettle': __, ...rest } = CRAFT;
  const craft = (i: number) =>
    `${CRAFT['builds/rafter.fettle']}`
      .replaceAll('Rafter', `Craft${i}`)
      .replace('  pack: Slim900', `  item: ${i + 1} g "payload"\n  pack: Slim900`);
  const builds = Object.fromEntries(Array.from({ length: 12 }, (_, i) => [`builds/c${i}.fettle`, craft(i)]));
  return new Repository({ ...rest, ...builds });
}

const markdown = (repository: Repository): string => repository.review('--base', 'main', '--format', 'markdown').out;

const unfolded = (text: string): string => text.replace(/<details>[\s\S]*?<\/details>\n*/g, '');

describe('one figure of a part that thirteen builds share', () => {
  it('is a table with a line a build, and one line for the change; all else is folded', () => {
    using repository = fleet();
    repository.edit(MOTORS, 'mass: 12.40 g', 'mass: 13.40 g');
    const out = markdown(repository);
    const open = unfolded(out);
    expect(open).toContain('| build | pack | found | all-up | hover | thrust-to-weight | nearest limit |');
    expect(
      open.match(
        /^\| `(Craft\d+|Rafter)` \| `Slim900` \| {2}\| [\d.]+ → [\d.]+ g \| .* → .* \| .* → .* \| motor, burst rating \d\d % \|$/gm,
      ),
    ).toHaveLength(13);
    expect(open.match(/`mass` of `motor M1506`/g)).toHaveLength(1);
    expect(open.split('\n').length).toBeLessThan(35);
    expect(out.length).toBeLessThan(12_000);
    expect(out.match(/<details>/g)).toHaveLength(13);
    const text = repository.review('--base', 'main').out;
    expect(text.split('\n').length).toBeLessThan(30);
    expect(text).toMatch(/^Craft3 +Slim900 +213\.8 → 217\.8 g /m);
  });
});

describe('several changes that bring the same error to all', () => {
  it('are reported once, worst build first, with what more is permitted above', () => {
    using repository = fleet();
    repository
      .edit(MOTORS, 'rated: 3S\n', 'rated: 2S\n')
      .edit(MOTORS, '12.40 g', '13.40 g')
      .edit('parts/others.fettle', 'continuous: 32 A', 'continuous: 35 A')
      .edit('parts/others.fettle', '700 mAh', '400 mAh')
      .edit('builds/c7.fettle', 'duty 58 %', 'duty 80 %');
    const out = markdown(repository);
    const open = unfolded(out);
    expect(open.match(/new warning\*\* `motor-overvoltage`/g)).toHaveLength(1);
    expect(open).toMatch(/^- \*\*new warning\*\* `motor-overvoltage` same on 13 builds: M1506 is wound for 2S/m);
    expect(open.match(/^- \*\*limit of esc Board32 raised\*\* .* \(13 builds\)$/gm)).toHaveLength(1);
    expect(open).toMatch(/^\| `Craft7` \| .*\n\| `Craft0` /m);
    expect(out.length).toBeLessThan(25_000);
    expect(repository.review('--base', 'main').out.match(/new warning {2}motor-overvoltage/g)).toHaveLength(1);
  });
});

describe('what cannot be judged', () => {
  it('is one sentence, however many builds rest on it', () => {
    using repository = fleet();
    repository.edit(MOTORS, 'kv: 3900', 'kv 3900');
    const out = markdown(repository);
    expect(out).toMatch(/^- on 13 builds: .* are no longer known: the kv of M1506 is not known$/m);
    expect(out.match(/no longer known/g)).toHaveLength(1);
    expect(out.length).toBeLessThan(1500);
    expect(repository.review('--base', 'main').out.match(/no longer known/g)).toHaveLength(1);
  });
});

describe('a ± that got wide', () => {
  it('is in the first line though no value moved', () => {
    using repository = new Repository({
      ...CRAFT,
      'parts/others.fettle': `${CRAFT['parts/others.fettle']}`.replace(
        'pitch: 56 mm  blades: 3 ',
        'pitch: 56 mm  blades: 3  thrust_coefficient: 0.2 measured  power_coefficient: 0.12 measured ',
      ),
    });
    repository.edit(
      'parts/others.fettle',
      'thrust_coefficient: 0.2 measured',
      'thrust_coefficient: 0.2 +- 40 % claimed',
    );
    const { verdict } = repository.json('--base', 'main');
    expect(verdict.worry).toBe('differences');
    expect(verdict.sentence).toMatch(
      /^No new error or warning; (.*, )?the ± of hover time became wide on (\w+|\d builds) \(\d+ → \d+ %\)/,
    );
  });
});

describe('the versions that were compared', () => {
  it('are named with their commits, that of the working tree is the one it is on', () => {
    using repository = new Repository(CRAFT);
    repository.edit(MOTORS, '12.40 g', '12.50 g');
    const commit = repository.git('rev-parse', 'HEAD').slice(0, 12);
    expect(markdown(repository).split('\n')[2]).toMatch(
      new RegExp(`; main \\(${commit}\\) → working tree on ${commit}$`),
    );
  });
});
