/** A thousand candidates of a shortlist, and the same as a loop over the library would do it: a text a candidate, parsed and computed. Seconds of processor time. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { EmptyFileSystem, URI } from 'langium';
import type { File } from '../../packages/language/src/grammar/generated/ast.ts';
import { assess, findings, parse } from '../../packages/language/src/index.ts';
import { choose } from '../../packages/language/src/report/decide/choice.ts';
import { judgeLot } from '../../packages/language/src/report/decide/judging.ts';
import { spaceOf } from '../../packages/language/src/trial/candidates.ts';
import { partNamed } from '../../packages/language/src/trial/trial.ts';
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
  /** Per second of processor time. */
  readonly perSecond: number;
  /** The same without the table, so without any ±. */
  readonly withoutTable: number;
  readonly byLibrary: number;
  /** MB in use behind the first tenth of them, and behind all. */
  readonly memory: readonly [number, number];
}

/** Candidates that all pass: every one is computed, none is cheap. */
export async function candidatesPerSecond(count = 1000, byLibrary = 40): Promise<Candidates> {
  const services = createFettleServices(EmptyFileSystem);
  const { LangiumDocumentFactory, LangiumDocuments, DocumentBuilder } = services.shared.workspace;
  const shortlist = `shortlist Duty { for: Gable  vary: duty 90 % .. 100 % step ${10 / (count - 1)} %  prefer: hover_time }`;
  const text = `${parts}\n${gable}\n${shortlist.replaceAll('  ', '\n')}\n`;
  const document = LangiumDocumentFactory.fromString<File>(text, URI.parse('memory:///gable.fettle'));
  LangiumDocuments.addDocument(document);
  await DocumentBuilder.build([document], { validation: false });
  const node = partNamed(document, 'shortlist', 'Duty');
  if (!node) throw new Error('the shortlist was not read');
  const space = await spaceOf(services, document, node);
  const memory: number[] = [];
  const used = () => process.memoryUsage().heapUsed / 1e6;
  const start = processorSeconds();
  const chosen = await choose(space, {
    step: (done) => {
      if (memory.length === 0 && done >= count / 10) memory.push(used());
    },
  });
  const seconds = processorSeconds() - start;
  memory.push(used());
  const again = processorSeconds();
  judgeLot(space, 0, space.count);
  const withoutTable = space.count / (processorSeconds() - again);
  const before = processorSeconds();
  for (let i = 0; i < byLibrary; i++) {
    const variant = `build Candidate like Gable {\n  without: Round2600_3S\n  without: Eaves1150_3S\n  pack: Eaves1150_3S duty ${90 + i / 10} %\n}\n`;
    const workspace = await parse({ 'gable.fettle': `${parts}\n${gable}\n${variant}` });
    assess(workspace, { build: 'Candidate' });
    findings(workspace);
  }
  return {
    count: chosen.count,
    perSecond: chosen.count / seconds,
    withoutTable,
    byLibrary: byLibrary / (processorSeconds() - before),
    memory: [memory[0] ?? 0, memory[1] ?? 0],
  };
}
