/** A change that many builds rest on: one table, what is alike once, details behind. */
import { describe, expect, it } from 'vitest';
import { cases } from '../../long.ts';
import { CRAFT } from './rooftop-craft.ts';
import { Change } from './texts-under-review.ts';

/** More than are shown in full. */
const BUILDS = cases(7, 13);
const LAST = `builds/c${BUILDS - 2}.fettle`;
const MOTORS = 'parts/motors.fettle';

/** Builds on the same parts, each of another weight. */
function fleet(): Change {
  const { 'builds/quiet.fettle': _, 'builds/eave.fettle': __, ...rest } = CRAFT;
  const craft = (i: number) =>
    `${CRAFT['builds/rafter.fettle']}`
      .replaceAll('Rafter', `Craft${i}`)
      .replace('  pack: Slim900', `  item: ${i + 1} g "payload"\n  pack: Slim900`);
  const builds = Object.fromEntries(Array.from({ length: BUILDS - 1 }, (_, i) => [`builds/c${i}.fettle`, craft(i)]));
  return new Change({ ...rest, ...builds });
}

const unfolded = (text: string): string => text.replace(/<details>[\s\S]*?<\/details>\n*/g, '');

describe('one figure of a part that many builds share', () => {
  it('is a table with a line a build, and one line for the change; all else is folded', async () => {
    const change = fleet();
    change.edit(MOTORS, 'mass: 12.40 g', 'mass: 13.40 g');
    const out = await change.markdown();
    const open = unfolded(out);
    expect(open).toContain('| build | pack | found | all-up | hover | thrust-to-weight | nearest limit |');
    expect(
      open.match(
        /^\| `(Craft\d+|Rafter)` \| `Slim900` \| {2}\| [\d.]+ → [\d.]+ g \| .* → .* \| .* → .* \| motor, burst rating \d\d % \|$/gm,
      ),
    ).toHaveLength(BUILDS);
    expect(open.match(/`mass` of `motor M1506`/g)).toHaveLength(1);
    expect(open.split('\n').length).toBeLessThan(35);
    expect(out.length).toBeLessThan(12_000);
    expect(out.match(/<details>/g)).toHaveLength(BUILDS);
    const text = await change.text();
    expect(text.split('\n').length).toBeLessThan(30);
    expect(text).toMatch(/^Craft3 +Slim900 +213\.8 → 217\.8 g /m);
  });
});

describe('several changes that bring the same error to all', () => {
  it('are reported once, worst build first, with what more is permitted above', async () => {
    const change = fleet();
    change
      .edit(MOTORS, 'rated: 3S\n', 'rated: 2S\n')
      .edit(MOTORS, '12.40 g', '13.40 g')
      .edit('parts/others.fettle', 'continuous: 32 A', 'continuous: 35 A')
      .edit('parts/others.fettle', '700 mAh', '400 mAh')
      .edit(LAST, 'duty 58 %', 'duty 80 %');
    const out = await change.markdown();
    const open = unfolded(out);
    expect(open.match(/new warning\*\* `motor-overvoltage`/g)).toHaveLength(1);
    expect(open).toContain(`\n- **new warning** \`motor-overvoltage\` same on ${BUILDS} builds: M1506 is wound for 2S`);
    const raised = new RegExp(`^- \\*\\*limit of esc Board32 raised\\*\\* .* \\(${BUILDS} builds\\)$`, 'gm');
    expect(open.match(raised)).toHaveLength(1);
    expect(open).toMatch(new RegExp(`^\\| \`Craft${BUILDS - 2}\` \\| .*\\n\\| \`Craft0\` `, 'm'));
    expect(out.length).toBeLessThan(25_000);
    expect((await change.text()).match(/new warning {2}motor-overvoltage/g)).toHaveLength(1);
  });
});

describe('what cannot be judged', () => {
  it('is one sentence, however many builds rest on it', async () => {
    const change = fleet();
    change.edit(MOTORS, 'kv: 3900', 'kv 3900');
    const out = await change.markdown();
    expect(out).toMatch(
      new RegExp(`^- on ${BUILDS} builds: .* are no longer known: the kv of M1506 is not known$`, 'm'),
    );
    expect(out.match(/no longer known/g)).toHaveLength(1);
    expect(out.length).toBeLessThan(1500);
    expect((await change.text()).match(/no longer known/g)).toHaveLength(1);
  });
});

describe('a ± that got wide', () => {
  it('is in the first line though no value moved', async () => {
    const change = new Change({
      ...CRAFT,
      'parts/others.fettle': `${CRAFT['parts/others.fettle']}`.replace(
        'pitch: 56 mm  blades: 3 ',
        'pitch: 56 mm  blades: 3  thrust_coefficient: 0.2 measured  power_coefficient: 0.12 measured ',
      ),
    });
    change.edit('parts/others.fettle', 'thrust_coefficient: 0.2 measured', 'thrust_coefficient: 0.2 +- 40 % claimed');
    const { verdict } = await change.json();
    expect(verdict.worry).toBe('differences');
    expect(verdict.sentence).toMatch(
      /^No new error or warning; (.*, )?the ± of hover time became wide on (\w+|\d builds) \(\d+ → \d+ %\)/,
    );
  });
});
