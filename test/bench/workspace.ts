/** A workspace as large as a club's: part folders of five files each, and for each of them a folder of fifty builds. Made from the examples. */
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';

const examples = join(import.meta.dirname, '../../examples');
const read = (path: string): string => readFileSync(join(examples, path), 'utf8');

const PART_FILES = ['motors', 'propellers', 'boards', 'packs', 'loads'] as const;
const BUILDS_A_FOLDER = 50;

/** Every second build flies two packs, as people do. */
function buildText(number: number, folder: number): string {
  const second = number % 2 === 1 ? '  pack: Slim420_3S duty 66 %\n' : '';
  return `use "../../parts/p${folder}"
use "../../rules"

build Rafter${number} "Rafter ${number}, roof-void survey" {
  rules: IndoorRules
  airframe: Duct90
  motors: 4 x M1104_10500 with P2020x3
  esc: Board20
  load: WideCam from Board20.video
  load: Receiver from Board20.logic
  load: Lamp from pack
  item: 12 x ScrewM2
  item: 2.4 g "solder, heat-shrink, tape"
  pack: Slim480_2S
${second}  require hover_time >= 2 min
}
`;
}

/** Where the builds of a number stand. */
export const buildPath = (number: number): string =>
  `builds/p${Math.floor(number / BUILDS_A_FOLDER)}/b${number}.fettle`;

export interface Workspace {
  readonly builds: number;
  readonly partFiles: number;
}

/** Writes it into a folder; returns how large it became. */
export function writeWorkspace(folder: string, builds: number): Workspace {
  const write = (path: string, text: string): void => writeFileSync(join(folder, path), text);
  const folders = Math.ceil(builds / BUILDS_A_FOLDER);
  mkdirSync(join(folder, 'rules'), { recursive: true });
  write('rules/survey.fettle', read('rules/survey.fettle'));
  for (let p = 0; p < folders; p++) {
    mkdirSync(join(folder, `parts/p${p}`), { recursive: true });
    mkdirSync(join(folder, `builds/p${p}`), { recursive: true });
    for (const file of PART_FILES) write(`parts/p${p}/${file}.fettle`, read(`parts/${file}.fettle`));
    write(
      `parts/p${p}/loads.fettle`,
      `${read('parts/loads.fettle')}\n${read('parts/frames.fettle').replace('fettle 1', '')}`,
    );
  }
  for (let number = 0; number < builds; number++) {
    write(buildPath(number), buildText(number, Math.floor(number / BUILDS_A_FOLDER)));
  }
  return { builds, partFiles: folders * PART_FILES.length };
}
