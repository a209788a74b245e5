/** A thread of `check-threads.ts`: checks one lot of files after the other; what it read for one it knows for the next. */
import { parentPort, workerData } from 'node:worker_threads';
import { type LangiumDocument, URI } from 'langium';
import { type CheckedDocument, checkDocument } from '../checks/run.ts';
import { readDocument } from '../checks/text/read-document.ts';
import { gathered, withSoundFixes } from '../report/checked.ts';
import { recordsOf } from '../report/formats/record.ts';
import { forget } from '../syntax/memory.ts';
import type { FileDocument } from '../syntax/nodes.ts';
import { loadFiles } from '../workspace/load-paths.ts';
import { NodeFileSystem } from '../workspace/node-files.ts';
import { createFettleServices } from '../workspace/services.ts';
import type { Lot, LotChecked, Task } from './check-threads.ts';
import { pathOf } from './checked-files.ts';

const { all, detail } = workerData as Task;
const services = createFettleServices(NodeFileSystem);
const index = services.shared.workspace.IndexManager;
/** Texts that were handed over already, by URI. */
const reported = new Set<string>();

parentPort?.on('message', async (lot: Lot) => parentPort?.postMessage(await checkLot(lot)));

async function checkLot({ number, files }: Lot): Promise<LotChecked> {
  const { documents, failures } = await load(files);
  const checked = documents.map(checkedNow);
  const open = documents.filter(({ uri }) => index.dependsOnAll(uri.toString()));
  if (open.length > 0) {
    await load(all);
    for (const uri of new Set(open.flatMap(withDependencies))) forgetAt(uri);
    for (const document of open) checked[documents.indexOf(document)] = checkedNow(document);
  }
  const { builds, failures: defects } = gathered(checked, pathOf);
  const { found: records, failures: ofRecords } = recordsOf(builds, detail, pathOf);
  return {
    number,
    files: documents.length,
    builds: records,
    findings: checked.flatMap(withSoundFixes),
    elsewhere: checked.flatMap(({ elsewhere }) => elsewhere),
    failures,
    defects: [...defects, ...ofRecords],
    texts: new Map(newTexts()),
  };
}

const load = (uris: readonly string[]) =>
  loadFiles(
    services,
    uris.map((uri) => URI.parse(uri)),
  );

const checkedNow = (document: FileDocument): CheckedDocument => checkDocument(readDocument(document));

const withDependencies = ({ uri }: LangiumDocument): string[] => {
  const source = uri.toString();
  return [source, ...index.dependenciesOf(source)];
};

function forgetAt(uri: string): void {
  const document = index.documentOf(uri);
  if (document) forget(document);
}

function* newTexts(): Iterable<[string, string]> {
  for (const { uri, textDocument } of services.shared.workspace.LangiumDocuments.all) {
    const key = uri.toString();
    if (!reported.has(key)) yield [key, textDocument.getText()];
    reported.add(key);
  }
}
