/** Craft whose results are explained: ordinary ones, examples, and one of everything that is less usual. */
import { readdirSync, readFileSync } from 'node:fs';
import { join, sep } from 'node:path';
import type { Assessment } from '../../packages/language/src/analysis/assessment.ts';
import { withGramsLeft } from '../../packages/language/src/analysis/decide/pack-grams.ts';
import { assessedIn } from '../checks/findings-in.ts';
import { oneIn } from '../long.ts';
import { ORDINARY } from '../ordinary-craft.ts';

const exampleFolder = join(import.meta.dirname, '../../examples');
const EXAMPLES = Object.fromEntries(
  readdirSync(exampleFolder, { recursive: true, encoding: 'utf8' })
    .filter((path) => path.endsWith('.fettle') && !path.startsWith('broken'))
    .map((path) => [path.split(sep).join('/'), readFileSync(join(exampleFolder, path), 'utf8')]),
);

/** Flies in legs. */
const SPIRE = 'builds/spire.fettle';

/** Of everything that a formula may depend on, the less usual kind. */
const UNUSUAL = `
motor Small { stator: 14 x 4 mm  kv: 4600 rpm/V  rated: 3S  thermal_resistance: 12 K/W  mass: 9 g }
motor Large { stator: 15 x 7 mm  kv: 3800 rpm/V  resistance: 90 mohm  rated: 3S  thermal_resistance: 7 K/W  mass: 13 g }
propeller P76 { diameter: 76 mm  pitch: 1.8 in  blades: 2  mass: 1.2 g }
propeller P81 { diameter: 81 mm  pitch: 2 in  blades: 3  mass: 1.6 g }
esc First { channels: 2  cells: 2S .. 6S  continuous: 20 A  standby_current: 60 mA  mass: 6 g
  rail video { type: buck  output: 5 V  continuous: 2 A } }
esc Second { channels: 2  cells: 2S .. 6S  continuous: 35 A  burst: 50 A  mass: 8 g }
regulator High { type: buck  output: 12 V  continuous: 2 A  mass: 1 g }
regulator Tall { type: buck  output: 24 V  continuous: 2 A  mass: 1 g }
regulator Up { type: boost  output: 12 V  continuous: 1 A  standby_current: 4 mA  mass: 1 g }
regulator Pass { type: boost  output: 6 V  continuous: 3 A  mass: 1 g }
regulator Either { type: buck_boost  output: 9 V  continuous: 1 A  mass: 1 g }
regulator Burner { type: linear  output: 5 V  continuous: 0.5 A  standby_current: 3 mA  mass: 0.4 g }
airframe Open { rotors: 4  wheelbase: 150 mm  drag_area: 70 cm^2  mass: 50 g }
mount Gel { stiffness: 1200 N/m  mass: 1 g }
mount Tapped { frequency: 60 Hz  mass: 1 g }
mount Foam { sag: 0.4 mm  mass: 1 g }
lead Main { wire: 18 AWG  length: 60 mm  mass: 2 g }
load Cam { draw: 5 W  peak: 7 W  supply: 6 V .. 26 V  mass: 12 g }
load Lamp { draw: 0.4 A  peak: 0.5 A  supply: 4 V .. 30 V  mass: 4 g }
load Receiver { draw: 70 mA  supply: 4.5 V .. 5.5 V  mass: 1 g }
load Hungry { draw: 4 W  supply: 10.9 V .. 26 V  mass: 6 g }
pack Three { cells: 3S  capacity: 850 mAh  discharge: 75C  cell_resistance: 8 mohm measured at 20 degC  mass: 70 g }
pack Worn like Three { temperature: 5 degC  cycles: 200 }
pack Two { chemistry: lihv  cells: 2S  capacity: 1100 mAh measured  discharge: 60C  mass: 60 g }
pack Ion { chemistry: liion  cells: 3S2P  capacity: 4200 mAh  discharge: 8C  mass: 280 g }

build Mixed {
  airframe: Open
  motors: 2 x Small with P76
  motors: 2 x Large with P81
  esc: First
  esc: Second
  regulator: High
  regulator: Pass
  regulator: Tall
  regulator: Either from First.video
  regulator: Up from First.video
  regulator: Burner from High
  lead: 2 x Main
  load: Cam from pack on Gel at 40 mm
  load: 2 x Lamp from Pass
  load: Receiver from Burner at -10 mm
  load: Lamp from Up
  load: Receiver from First.video
  load: Cam from Either
  load: Cam from Tall
  load: Lamp from Tall
  pack: Three
  pack: Worn duty 80 %
  pack: 2 x Three in parallel as Pair at -12 mm
  pack: 2 x Two in series as Row
  pack: Ion
  flown: 60 % at hover
  flown: 40 % at 1.6 x hover
  ground: 2 min
  tilt: 30 deg
  air: 25 degC at 800 m
  humidity: 80 %
}

build Stacked {
  airframe: Open
  upper_motors: 2 x Large with P81
  lower_motors: 2 x Small with P76
  esc: Second
  esc: First
  regulator: High
  load: Cam from High on Foam
  regulator: Burner from pack
  load: Receiver from Burner
  pack: Three
  burst: 9 x hover
}

build Hungers {
  airframe: Open
  motors: 4 x Large with P81
  esc: Second
  esc: Second as Rear
  load: Hungry from pack
  pack: Three
  flown: 100 % at 1.4 x hover
  require hover_time >= 2 min
}

build Observed like Plain {
  burst: 9 x hover
  observed "old granary" with Three {
    hover_current: 4.2 A +- 5 %
    burst_current: 38 A +- 5 %
  }
}

pack Estimated { cells: 3S  capacity: 900 mAh  discharge: 90C  mass: 74 g }

build Shown like Plain {
  pack: Estimated
  observed "old granary" with Estimated {
    cell_resistance: 16 mohm at 18 degC
  }
}

build Plain {
  airframe: Open
  motors: 4 x Large with P81
  esc: Second
  esc: Second as Rear
  load: Lamp from High on Tapped
  regulator: High
  pack: Three at 5 mm
}`;

interface Craft {
  readonly title: string;
  readonly assessment: Assessment;
}

async function craftIn(texts: Readonly<Record<string, string>>, of = Object.keys(texts)): Promise<Craft[]> {
  return Object.values(await assessedIn(texts, of)).flatMap((builds) =>
    builds.flatMap(({ assessments }) =>
      assessments.map((assessment) => ({
        title: `${assessment.build.name} on ${assessment.option.name}`,
        assessment: withGramsLeft(assessment),
      })),
    ),
  );
}

export const CRAFT: readonly Craft[] = [
  ...(await craftIn(Object.fromEntries(oneIn(7, ORDINARY).map(({ file, text }) => [file, text])))),
  ...(await craftIn(
    EXAMPLES,
    oneIn(
      3,
      Object.keys(EXAMPLES).filter((path) => path !== SPIRE),
    ).concat(SPIRE),
  )),
  ...(await craftIn({ 'unusual.fettle': UNUSUAL })),
];
