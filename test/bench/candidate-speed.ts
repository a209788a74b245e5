/** Thousands of candidates of a shortlist, and some of them as a loop over the library would do it: a text a candidate, parsed and computed. Seconds of processor time. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { EmptyFileSystem, URI } from 'langium';
import type { File } from '../../packages/language/src/grammar/generated/ast.ts';
import { assess, findings, parse } from '../../packages/language/src/index.ts';
import { choose } from '../../packages/language/src/report/decide/choice.ts';
import { judgeLot } from '../../packages/language/src/report/decide/judging.ts';
import { type Space, spaceOf } from '../../packages/language/src/trial/candidates.ts';
import { partOfKindNamed } from '../../packages/language/src/trial/trial.ts';
import { createFettleServices } from '../../packages/language/src/workspace/services.ts';

const examples = join(import.meta.dirname, '../../examples');
/** All in one folder, so that no file needs another's place. */
const parts = ['parts', 'rules']
  .flatMap((folder) =>
    readdirSync(join(examples, folder)).map((name) => readFileSync(join(examples, folder, name), 'utf8')),
  )
  .join('\n')
  .replaceAll(/^fettle 1$/gm, '');
const gable = readFileSync(join(examples, 'builds/gable.fettle'), 'utf8').replaceAll(/^(?:fettle 1|use .*)$/gm, '');

const processorSeconds = (): number => {
  const { user, system } = process.cpuUsage();
  return (user + system) / 1e6;
};

export interface Candidates {
  readonly count: number;
  /** Per second of processor time, with the table. */
  readonly perSecond: number;
  /** The same without the table, so with a ± only where a verdict depends on it. */
  readonly withoutTable: number;
  readonly byLibrary: number;
  /** MB in use behind the first tenth of them, and behind all. */
  readonly memory: readonly [number, number];
}

const PACKS = ['Mast720_4S', 'Mast1050_4S', 'Mast1350_4S', 'Eaves1150_3S', 'Nave850_3S'];

/** Packs, propellers, windings and duty limits. @param steps of kv and of the duty limit, in rpm/V and percent */
async function spaceWith(steps: { readonly kv: number; readonly duty: number }, most?: number): Promise<Space> {
  const services = createFettleServices(EmptyFileSystem);
  const { LangiumDocumentFactory, LangiumDocuments, DocumentBuilder } = services.shared.workspace;
  const lines = [
    'for: Gable',
    ...PACKS.map((pack) => `vary: ${pack}`),
    'vary: pitch in 1.6 in .. 2.6 in step 0.1 in',
    `vary: kv in 2400 rpm/V .. 3600 rpm/V step ${steps.kv} rpm/V`,
    `vary: duty 60 % .. 100 % step ${steps.duty} %`,
    'require thrust_to_weight >= 3',
    'prefer: hover_time',
    'prefer: thrust_to_weight',
  ];
  const text = `${parts}\n${gable}\nshortlist Which {\n${lines.join('\n')}\n}\n`;
  const document = LangiumDocumentFactory.fromString<File>(text, URI.parse('memory:///gable.fettle'));
  LangiumDocuments.addDocument(document);
  await DocumentBuilder.build([document], { validation: false });
  const node = partOfKindNamed(document, 'shortlist', 'Which');
  if (!node) throw new Error('the shortlist was not read');
  return spaceOf(services, document, node, most);
}

async function chosenIn(space: Space) {
  const memory: number[] = [];
  const used = () => process.memoryUsage().heapUsed / 1e6;
  const start = processorSeconds();
  const chosen = await choose(space, {
    step: (done) => {
      if (memory.length === 0 && done >= space.count / 10) memory.push(used());
    },
  });
  const seconds = processorSeconds() - start;
  return { chosen, seconds, memory: [memory[0] ?? 0, used()] as const };
}

export async function candidatesPerSecond(byLibrary = 40): Promise<Candidates> {
  const { chosen, seconds, memory } = await chosenIn(await spaceWith({ kv: 200, duty: 1 }));
  const space = await spaceWith({ kv: 200, duty: 1 });
  const again = processorSeconds();
  judgeLot(space, 0, space.count);
  const withoutTable = space.count / (processorSeconds() - again);
  const before = processorSeconds();
  for (let i = 0; i < byLibrary; i++) {
    const variant = `motor Wound like M1606_3150 { kv: ${2400 + 200 * (i % 7)} rpm/V }
propeller Bent like P4022x2 { pitch: ${1.6 + (i % 11) / 10} in }
build Candidate like Gable {
  motors: 4 x Wound with Bent
  without: Round2600_3S
  without: Eaves1150_3S
  pack: ${PACKS[i % PACKS.length]} duty ${60 + i} %
  require thrust_to_weight >= 3
}
`;
    const workspace = await parse({ 'gable.fettle': `${parts}\n${gable}\n${variant}` });
    assess(workspace, { build: 'Candidate' });
    findings(workspace);
  }
  return {
    count: chosen.count,
    perSecond: chosen.count / seconds,
    withoutTable,
    byLibrary: byLibrary / (processorSeconds() - before),
    memory,
  };
}

/** More than anybody waits for at a desk: how long it takes, and whether memory grows with them. */
export async function aMillion(): Promise<Pick<Candidates, 'count' | 'memory'> & { readonly seconds: number }> {
  const { chosen, seconds, memory } = await chosenIn(await spaceWith({ kv: 50, duty: 0.05 }, 1_200_000));
  return { count: chosen.count, seconds, memory };
}
