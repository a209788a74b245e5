/** A workspace as large as a club's: part folders of five files each, and for each of them a folder of fifty builds. Made from the examples. */
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';

const examples = join(import.meta.dirname, '../../examples');
const read = (path: string): string => readFileSync(join(examples, path), 'utf8');

const PART_FILES = ['motors', 'propellers', 'boards', 'packs', 'loads'] as const;
const BUILDS_A_FOLDER = 50;

/** Every second build flies two packs, as people do. */
function buildText(number: number, folder: number): string {
  const second = number % 2 === 1 ? '  pack: Round2600_3S duty 58 %\n' : '';
  return `use "../../parts/p${folder}"
use "../../rules"

build Gable${number} "Gable ${number}, gutters and outer walls" {
  rules: SurveyRules
  airframe: Open184
  motors: 4 x M1606_3150 with P4022x2
  esc: Board35
  load: LinkCam from pack
  load: Receiver from Board35.logic
  load: Lamp from pack
  item: 12 x ScrewM2
  item: 2.4 g "solder, heat-shrink, tape"
  pack: Eaves1150_3S
${second}  require hover_time >= 2 min
}
`;
}

/** Where the builds of a number are. */
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
