/** Whether new texts leave every result and finding of the workspace as it is, which each refactoring must. */
import { interruptAndCheck } from 'langium';
import type { CancellationToken } from 'vscode-languageserver-protocol';
import { expanded } from '../../analysis/uncertainty/estimate.ts';
import { checkDocument } from '../../checks/run.ts';
import { readDocument } from '../../checks/text/read-document.ts';
import type { Build } from '../../model/build.ts';
import type { FileDocument } from '../../syntax/nodes.ts';
import { essenceOf, essenceOfDecision } from '../../trial/essence.ts';
import { type NewTexts, rewritten } from '../../trial/rewritten.ts';
import type { ReadingServices } from '../../trial/trial.ts';

export interface Judging {
  /** Names that the new texts declare or remove: messages may differ in them. */
  readonly names: readonly string[];
  /** Compares results rather than what they are computed from, which differs: an item in a line is another object than a part. */
  readonly isComputed?: boolean;
  /** Files that are judged for all. */
  readonly judged?: readonly string[];
}

/** So many builds are judged before other requests get their turn. */
const AT_ONCE = 20;

/** The reason, for people; undefined where all is judged as before. Throws when the operation is cancelled. */
export async function whyJudgedOtherwise(
  services: ReadingServices,
  texts: NewTexts,
  { names, isComputed = false, judged }: Judging,
  cancellation: CancellationToken,
): Promise<string | undefined> {
  const { before, after } = await rewritten(services, texts, cancellation, judged);
  const faulty = [...after.values()].find(
    ({ parseResult: { lexerErrors, parserErrors } }) => lexerErrors.length + parserErrors.length > 0,
  );
  if (faulty) return 'the text would no longer be read';
  const problems = difference(problemsOf(before, names), problemsOf(after, names));
  if (problems !== undefined) return `what is reported of the text would change: ${problems}`;
  const others = decisionsOf(after);
  for (const [key, { name, essence }] of decisionsOf(before))
    if (!names.includes(name) && others.get(key)?.essence !== essence) return `what ${name} means would change`;
  const built = buildsOf(after);
  for (const [index, [name, one]] of [...buildsOf(before)].entries()) {
    if (index % AT_ONCE === 0) await interruptAndCheck(cancellation);
    const other = built.get(name);
    const isAlike =
      other &&
      (isComputed
        ? resultsOf(one, names) === resultsOf(other, names)
        : essenceOf(one.build) === essenceOf(other.build));
    if (!isAlike) return `what is computed of ${one.build.name} would change`;
  }
  return undefined;
}

type Documents = ReadonlyMap<string, FileDocument>;

interface Decision {
  readonly name: string;
  readonly essence: string;
}

interface BuildInFile {
  readonly build: Build;
  readonly document: FileDocument;
}

/** Of flights, test stands and shortlists, whether or not a build rests on them, what they mean; by kind and name. */
function decisionsOf(documents: Documents): Map<string, Decision> {
  const found = new Map<string, Decision>();
  for (const document of documents.values())
    for (const part of document.parseResult.value.parts) {
      const essence = essenceOfDecision(part);
      const { kind, name = '' } = part;
      if (essence !== undefined) found.set(`${kind} ${name}`, { name, essence });
    }
  return found;
}

/** By name, which a moved build keeps; several of one name are distinguished by their files. */
function buildsOf(documents: Documents): Map<string, BuildInFile> {
  const found = new Map<string, BuildInFile>();
  for (const document of documents.values())
    for (const build of readDocument(document).builds) {
      const key = found.has(build.name) ? `${build.name} in ${build.uri}` : build.name;
      found.set(key, { build, document });
    }
  return found;
}

function problemsOf(documents: Documents, names: readonly string[]): string[] {
  return [...documents.values()]
    .flatMap((document) => readDocument(document).problems)
    .map(({ id, message, severity = '' }) => `${without(names, message)} (${id}${severity})`)
    .sort();
}

/** The first that only one side has. */
function difference(before: readonly string[], after: readonly string[]): string | undefined {
  const rest = [...before];
  for (const one of after) {
    const at = rest.indexOf(one);
    if (at < 0) return one;
    rest.splice(at, 1);
  }
  return rest[0];
}

function resultsOf({ build, document }: BuildInFile, names: readonly string[]): string {
  const { builds, findings } = checkDocument(readDocument(document));
  const results = builds
    .filter((one) => one.build === build)
    .flatMap(({ assessments }) => assessments)
    .flatMap(({ option, results, missing }) => [
      ...[...results].map(
        ([name, { estimate }]) => `${option.name} ${name} ${digits(estimate.value)} ${digits(expanded(estimate))}`,
      ),
      ...[...missing].map(([name, { reason }]) => `${option.name} ${name} ${reason}`),
    ]);
  const found = findings
    .filter((one) => one.build === build.name)
    .map(({ id, severity, message, pack = '' }) => `${id} ${severity} ${pack} ${message}`);
  return without(names, [...results, ...found].sort().join('\n'));
}

const without = (names: readonly string[], text: string): string =>
  names.reduce((rest, name) => rest.replaceAll(name, '…'), text);

/** Without the last digits, in which sums in another order differ. */
const digits = (value: number): string => value.toPrecision(11);
