/** What is typed wrongly to the commands that decide: one line each, with what would be right; nothing is printed and nothing is written. */
import { readFileSync } from 'node:fs';
import { afterAll, describe, expect, it } from 'vitest';
import { Workshop } from './command.ts';

const shop = new Workshop();
afterAll(() => shop.remove());

const BUILDS = ['--in', 'examples/builds'];
const keep = (text: string, ...more: string[]) => ['solve', 'Spire', '--most', 'item mass', '--keep', text, ...more];
const most = (figure: string) => ['solve', 'Spire', '--most', figure, '--keep', 'thrust_to_weight >= 3'];
const tried = (...lines: string[]) => ['try', 'Spire', ...lines];
const vary = (line: string, prefer = 'hover_time', ...more: string[]) => [
  'choose',
  'Spire',
  '--vary',
  line,
  '--prefer',
  prefer,
  ...more,
];

const WRONG: readonly (readonly [readonly string[], RegExp])[] = [
  [keep('hover_time >= 6'), /a unit is needed: hover_time is a time/],
  [keep('hover_time'), /compare it with something: >= or <= and a value/],
  [keep(''), /require what\? for instance: require hover_time >= 4 min/],
  [keep('thrust_to_weight >= 3 and'), /something is missing after and/],
  [keep('motor_current <= 8 A'), /did you mean full_motor_current\?/],
  [keep('max_current <= 8 A'), /did you mean full_current or full_motor_current\?/],
  [keep('rail.nix.voltage >= 3 V'), /no rail called nix in this build; known here: Board35, logic/],
  [keep('flight.Nowhere.charge_left >= 30 %'), /no flight called Nowhere in this build; known here: FarBay/],
  [keep('flight.FarBay.charge_lef >= 30 %'), /no such result of a flight: charge_lef; did you mean charge_left/],
  [keep('thrust_to_weight >= 3', '--with', 'Mast9'), /there is no pack Mast9; known: Mast720_4S/],
  [keep('thrust_to_weight >= 3', '--least', 'duty'), /state either --most FIGURE or --least FIGURE/],
  [most('hover_time'), /there is no figure hover_time; known: item mass, duty/],
  [most('pack cells'), /there is no figure pack cells/],
  [most('mass'), /several parts have mass: state one of item mass/],
  [
    ['solve', 'Spir', '--most', 'duty', '--keep', 'thrust_to_weight >= 3'],
    /there is no build Spir; did you mean Spire\?/,
  ],
  [tried('item: 300'), /300 of what\?/],
  [tried('item 300 g'), /state a line as in a build, such as `item: 300 g`/],
  [tried(''), /state a line as in a build/],
  [tried('pack: Nope'), /no such pack: Nope/],
  [tried('pack: Mast1050_4'), /no such pack: Mast1050_4; did you mean Mast1050_4S/],
  [tried('motor.kv: 2650'), /a unit is needed: 2650 rpm\/V\?/],
  [tried('motor.kw: 2650 rpm/V'), /neither a build nor a part of this one has `kw`/],
  [tried('duty: 80 %'), /a duty limit belongs to a pack: `pack: NAME duty 80 %`/],
  [tried('duty 80 %'), /`pack: Mast1350_4S`/],
  [tried('leg: 3 min hover'), /write a `flight` with all its legs in a file, and try `flight: NAME`/],
  [tried('mass: 20 g'), /several parts state their mass: state whose/],
  [tried('pack: Mast1050_4S duty 180 %'), /a duty limit lies between 1 % and 100 %/],
  [tried('pack: Mast1050_4S}'), /state one line of a build, without braces or comments/],
  [tried('motors: 4 x M1606_3150'), /with which propeller\? with and its name/],
  [tried('flight: Nope'), /no such flight: Nope/],
  [tried('without: Nope'), /nothing called Nope comes from Spire/],
  [tried('require hover_time >= 3'), /a unit is needed: hover_time is a time/],
  [['sensitivity', 'hover_tim', 'Spire'], /there is no result hover_tim; did you mean hover_time\?/],
  [['sensitivity', 'rail.nix.voltage', 'Spire'], /did you mean rail\.logic\.voltage\?/],
  [['choose', 'TowerPak'], /there is no shortlist or build TowerPak; did you mean TowerPack\?/],
  [['choose', 'Spire', '--vary', 'Mast720_4S'], /state what is varied and preferred/],
  [['choose', 'TowerPack', '--vary', 'Mast720_4S'], /TowerPack is a shortlist and states itself what it varies/],
  [['choose', 'TowerPack', '--apply', 'x'], /rows are counted from 1, such as --apply 1; nothing is written/],
  [['choose', 'TowerPack', '--apply', '0'], /rows are counted from 1, such as --apply 1; nothing is written/],
  [vary('Mast720_4S, Mast1350_4S'), /one statement per line: write the line again for the next/],
  [vary('Mast720_4S }'), /state each option as one line, without braces or comments/],
  [vary('pack'), /which pack\? `pack in "\.\.\/parts"`/],
  [vary('pack Mast720_4S'), /a part is tried by its name alone: vary: Mast720_4S/],
  [vary('pack M1606_3150'), /M1606_3150 is a motor, expected a pack/],
  [vary('Mast9999'), /no such part or figure: Mast9999/],
  [vary('Strap'), /Strap is an item, expected/],
  [vary('duty 70 .. 100'), /duty is given in %: `duty 60 % \.\. 100 % step 5 %`/],
  [vary('duty 70 % .. 100 % step 0 %'), /the step of duty is more than nothing/],
  [vary('duty 100 % .. 70 %'), /ends higher than it begins/],
  [vary('duty 80 %'), /duty is tried over a range: `duty 60 % \.\. 100 % step 5 %`/],
  [vary('capacity in 600 g .. 900 g'), /capacity is given in mAh/],
  [vary('mass in 60 g .. 90 g'), /mass of what\? `mass of pack`/],
  [vary('pack in "../nothing"'), /there is no pack in "\.\.\/nothing": is it opened with use/],
  [vary('battery in "../parts"'), /no such part or figure: battery; did you mean pack\?/],
  [vary('Mast720_4S', 'hover_tim'), /did you mean hover_time\?/],
  [vary('Mast720_4S', 'less hover_time'), /less of hover_time cannot be preferred: of it more is better/],
  [vary('Mast720_4S', 'flight.Nowhere.charge_left'), /makes no flight Nowhere: its flights are FarBay/],
  [vary('Mast720_4S', 'hover_time', '--require', 'hover_time'), /compare it with something/],
  [vary('Mast720_4S', 'hover_time', '--require', 'all_up_weight <= 3 s'), /these cannot be compared/],
];

describe('what is typed wrongly', () => {
  it('is tried in at least forty ways', () => {
    expect(WRONG.length).toBeGreaterThanOrEqual(40);
  });

  it.each(WRONG)('%j is refused in one line with what would be right', (args, message) => {
    const before = readFileSync('examples/builds/spire.fettle', 'utf8');
    const [command = '', ...rest] = args;
    const at = command === 'sensitivity' ? ['examples/builds'] : BUILDS;
    const { code, out, err } = shop.fettle(command, ...rest, ...at);
    expect({ code, out }).toEqual({ code: 2, out: '' });
    expect(err).toMatch(/^fettle: .+\n$/);
    expect(err).toMatch(message);
    expect(readFileSync('examples/builds/spire.fettle', 'utf8')).toBe(before);
  });

  it('may contain braces and slashes in a text', () => {
    const { code, err } = shop.fettle(...(tried('item: 3 g "{tape} // \\"glue\\""') as [string]), ...BUILDS);
    expect({ code, err }).toEqual({ code: 0, err: '' });
    const kept = keep('hover_time >= 6 min because "two {bays} // and back"') as [string];
    expect(shop.fettle(...kept, ...BUILDS)).toMatchObject({ code: 0, err: '' });
  });

  it('is read where only the word of the line is written as well', () => {
    const plain = shop.fettle(...(keep('thrust_to_weight >= 3') as [string]), ...BUILDS).out;
    const worded = shop.fettle(...(keep('require thrust_to_weight >= 3') as [string]), ...BUILDS).out;
    const rows = (text: string) => text.split('\n').slice(1);
    expect(rows(worded)).toEqual(rows(plain));
    expect(
      shop.fettle('choose', 'Spire', '--vary', 'vary: Mast720_4S', '--prefer', 'prefer: hover_time', ...BUILDS).code,
    ).toBe(0);
  });
});
