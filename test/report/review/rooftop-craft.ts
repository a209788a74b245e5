/** Craft to be changed and reviewed: two small ones of their own, and those of the examples. */
import { readdirSync, readFileSync } from 'node:fs';
import { oneIn } from '../../long.ts';
import type { Texts } from './texts-under-review.ts';

const FOLDER = new URL('../../../examples/', import.meta.url);

const textsIn = (folder: string): [string, string][] =>
  readdirSync(new URL(folder, FOLDER)).map((name) => [
    `${folder}${name}`,
    readFileSync(new URL(`${folder}${name}`, FOLDER), 'utf8'),
  ]);

/** The group's craft. */
export const GROUP: Texts = Object.fromEntries(['builds/', 'parts/', 'rules/', 'stands/'].flatMap(textsIn));

/** With craft that are broken, and one with the log of a flight. */
const EXAMPLES: Texts = { ...GROUP, ...Object.fromEntries(['broken/', 'logs/'].flatMap(textsIn)) };

export const SPIRE = 'builds/spire.fettle';

const spireAlone = Object.fromEntries(
  Object.entries(GROUP).filter(([path]) => path === SPIRE || !path.startsWith('builds/')),
);

/** Where a change of the examples is reviewed: in one build, whose flight takes longest to compute; in a long run in all of them, too. */
export const FLOWN = oneIn(2, [
  { on: 'one build', files: { ...spireAlone, [SPIRE]: `${GROUP[SPIRE]}`.replace('  flight: FarBay\n', '') } },
  { on: 'all of the examples', files: EXAMPLES },
]);

/** Two craft that share their parts, and a variant of one. */
export const CRAFT: Texts = {
  'parts/motors.fettle': `fettle 1

motor M1506 "1506 stator" {
  stator: 15 x 6 mm
  kv: 3900 rpm/V +- 3 % claimed
  resistance: 74 mohm measured
  no_load_current: 0.86 A at 11.1 V measured
  rated: 3S
  continuous: 11 A claimed
  burst: 17 A for 5 s claimed
  mass: 12.40 g +- 0.02 g measured
}

motor M1506_Slow like M1506 {
  kv: 2400 rpm/V claimed
  resistance: 188 mohm measured
  rated: 5S
}
`,
  'parts/others.fettle': `fettle 1

airframe Open152 { mass: 47 g measured }
propeller P3022 { diameter: 76 mm  pitch: 56 mm  blades: 3  mass: 1.9 g measured }
esc Board32 { channels: 4  cells: 3S .. 6S  continuous: 32 A  burst: 40 A for 10 s  mass: 11.3 g measured
  rail video { from: pack  type: buck  output: 5 V  continuous: 2.5 A }
}
load Camera { draw: 4.2 W  supply: 4.6 V .. 17 V  mass: 16.2 g measured }
pack Slim900 { cells: 3S  capacity: 900 mAh claimed  discharge: 70C claimed  cell_resistance: 9 mohm measured  mass: 78.1 g measured }
pack Slim700 { cells: 5S  capacity: 700 mAh claimed  discharge: 70C claimed  cell_resistance: 11 mohm measured  mass: 96.5 g measured }
`,
  'rules/house.fettle': `fettle 1

rules HouseRules {
  reserve: 20 % of capacity
  require all_up_weight <= 270 g
}
`,
  'builds/rafter.fettle': `fettle 1
use "../parts"
use "../rules"

build Rafter "Rafter, gutters and eaves" {
  rules: HouseRules
  airframe: Open152
  motors: 4 x M1506 with P3022
  esc: Board32
  load: Camera from Board32.video
  pack: Slim900
  pack: Slim700 duty 58 %
}
`,
  'builds/quiet.fettle': `fettle 1
use "../parts"

build Quiet "Rafter, slower winding" like Rafter {
  motors: 4 x M1506_Slow with P3022
  without: Slim900
  without: Slim700
  pack: Slim700 as Full5S
}
`,
  'builds/eave.fettle': `fettle 1
use "../parts"

motor Old { stator: 14 x 6 mm  kv: 2300 rpm/V  rated: 5S  mass: 11 g }

build Eave "Eave, gutters" {
  airframe: Open152
  motors: 4 x Old with P3022
  esc: Board32
  pack: Slim700
}
`,
};
