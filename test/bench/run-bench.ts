/**
 * `npm run bench`: how fast it is, as medians and as ratios measured side by side in one run. Not part of the tests: figures depend on
 * the machine and on what else it does; only the ratios can be compared.
 */
import { spawnSync } from 'node:child_process';
import { cpSync, existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { cpus, loadavg, tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { assess, learntOn, prepare, templateOf } from '../../packages/language/src/analysis/assess.ts';
import type { Evaluation } from '../../packages/language/src/analysis/evaluate/evaluation.ts';
import { fitOf } from '../../packages/language/src/analysis/learn/fit.ts';
import { beforeLearning, measuredOf } from '../../packages/language/src/analysis/learn/learn.ts';
import { parse } from '../../packages/language/src/grammar/parse-text.ts';
import type { Build } from '../../packages/language/src/model/build.ts';
import { Rafter, Slim900_3S } from '../analysis/rafter.ts';
import { startSpice } from '../physics/spice.ts';
import { aMillion, candidatesPerSecond } from './candidate-speed.ts';
import { Client } from './client.ts';
import { buildPath, writeWorkspace } from './club-workspace.ts';
import { buildWithObservations } from './observed-build.ts';
import { YAML_BUILD, YAML_SCHEMA } from './yaml-build.ts';

const root = join(import.meta.dirname, '../..');
const server = [process.execPath, join(root, 'packages/language/dist/server.js'), '--stdio'];
const command = join(root, 'packages/language/bin/fettle.js');
const work = mkdtempSync(join(tmpdir(), 'fettle-bench-'));

const median = (values: readonly number[]): number =>
  values.toSorted((a, b) => a - b)[Math.floor(values.length / 2)] ?? Number.NaN;

async function timed(rounds: number, run: (round: number) => Promise<unknown> | unknown, warmUp = 2): Promise<number> {
  const times: number[] = [];
  for (let round = 0; round < rounds + warmUp; round++) {
    const start = performance.now();
    await run(round);
    if (round >= warmUp) times.push(performance.now() - start);
  }
  return median(times);
}

/** With another piece in place of one that has to be there: an edit that changes nothing is never answered. */
function exchanged(text: string, from: string, to: string): string {
  if (!text.includes(from)) throw new Error(`the bench edits ${JSON.stringify(from)}, which its text does not contain`);
  return text.replace(from, to);
}

const rows: [string, string, string][] = [];
const milliseconds = (value: number): string =>
  value < 1 ? `${(value * 1000).toFixed(0)} µs` : `${value.toFixed(value < 10 ? 1 : 0)} ms`;
const row = (what: string, figure: string, beside = ''): void => {
  rows.push([what, figure, beside]);
  console.log(`${what.padEnd(62)} ${figure.padStart(10)}  ${beside}`);
};

console.log(
  `${cpus()[0]?.model ?? 'unknown processor'}, ${cpus().length} cores, load ${loadavg()[0]?.toFixed(1)}, Node ${process.version}\n`,
);

// ---- one assessment and one operating point of a circuit simulator ----

const anew = (build: Build): Build => ({ ...build });
const everyPoint = ({ craft }: Evaluation): unknown[] => {
  // Each is solved when it is read.
  const { rest, full, fullAtReserve, flight } = craft ?? {};
  const { hover, hoverFresh, hoverAtReserve, hoverAtLandBy, phases, burst, burstAtReserve } = flight ?? {};
  return [rest, full, fullAtReserve, hover, hoverFresh, hoverAtReserve, hoverAtLandBy, phases, burst, burstAtReserve];
};
const perCall = async (call: () => void, many = 200): Promise<number> =>
  (await timed(15, () => {
    for (let i = 0; i < many; i++) call();
  })) / many;
const without = await perCall(() => everyPoint(prepare(anew(Rafter), Slim900_3S).evaluation));
const withUncertainty = await perCall(() => assess(anew(Rafter), Slim900_3S));
const { craft } = prepare(Rafter, Slim900_3S).evaluation.craft ?? {};
if (!craft) throw new Error('the bench craft has no operating point');
const spicePoint = await startSpice();
const spice = await timed(10, () => spicePoint({ craft, stateOfCharge: 1, thrust: undefined }));
row(
  'one build on one pack, every point, without ±',
  milliseconds(without),
  `SPICE, one point: ${milliseconds(spice)}, ${(spice / without).toFixed(0)} times as long`,
);
row(
  'the same with ± and all sensitivities',
  milliseconds(withUncertainty),
  `${(spice / withUncertainty).toFixed(1)} times as long`,
);

// ---- candidates of a shortlist ----

const many = await candidatesPerSecond();
row(
  `${many.count} candidates of a shortlist, each through all checks`,
  `${many.perSecond.toFixed(0)} /s, ${many.withoutTable.toFixed(0)} /s without ±`,
  `a loop over the library: ${many.byLibrary.toFixed(0)} /s; memory ${many.memory.map((one) => one.toFixed(0)).join(' → ')} MB`,
);

const million = await aMillion();
row(
  `${million.count} candidates, in one thread`,
  `${million.seconds.toFixed(0)} s`,
  `memory ${million.memory.map((one) => one.toFixed(0)).join(' → ')} MB`,
);

// ---- a long log ----

const log = join(work, 'log.csv');
writeFileSync(
  log,
  `time (ms);volts;amps;motors (%);note\n${Array.from(
    { length: 1_250_000 },
    (_, i) =>
      `${i};${(16.8 - i * 1e-6).toFixed(3)};${(6.4 + (i % 7) / 10).toFixed(2)};${40 + (i % 9)}.5;${'x'.repeat(10)}`,
  )
    .join('\n')
    .replaceAll('.', ',')}\n`,
);
const read = spawnSync(process.execPath, [join(root, 'test/bench/log.ts'), log], { encoding: 'utf8' });
const { seconds, megabytes, rows: logRows } = JSON.parse(read.stdout) as Readonly<Record<string, number>>;
row(
  `a log of ${(statSync(log).size / 1e6).toFixed(0)} MB, ${logRows} rows, read once`,
  `${seconds?.toFixed(1)} s`,
  `${megabytes?.toFixed(0)} MB; to stay below 10 s and 300 MB`,
);
// ---- what was measured, and one assessment ----

const { build: observed, lines } = await buildWithObservations();
const notLearning = { ...observed };
const [onePack] = observed.packs;
if (!onePack) throw new Error('the bench build has a pack');
const withoutLearning = await perCall(() => assess(beforeLearning(anew(notLearning)), onePack), 20);
const learning = await perCall(() => fitOf(measuredOf(observed, templateOf).scenes), 20);
const known = await perCall(() => learntOn(anew(observed)), 20);
row(
  `the fit of ${lines} measured lines`,
  milliseconds(learning),
  `${(learning / withoutLearning).toFixed(1)} times one assessment with ± of that build (${milliseconds(withoutLearning)})`,
);
row('the same once more, of a build read anew', milliseconds(known), `${(known / learning).toFixed(2)} of it`);

// ---- the server on a large workspace ----

const large = join(work, 'large');
const { builds, partFiles } = writeWorkspace(large, 2000);
const uriOf = (path: string): string => pathToFileURL(join(large, path)).toString();
const textOf = (path: string): string => readFileSync(join(large, path), 'utf8');
console.log(`\n${builds} builds, ${partFiles} part files`);

const start = performance.now();
const client = await Client.start(server, large);
const ready = performance.now();
const editedPath = buildPath(75);
const partPath = 'parts/p1/motors.fettle';
const opened = client.published([uriOf(editedPath)]);
// Only files with findings are published, and each of these has its note on estimates.
const everything = client.published(Array.from({ length: builds }, (_, i) => uriOf(buildPath(i))));
await client.open(uriOf(editedPath), 'fettle', textOf(editedPath));
await opened;
row(
  'a file opened at cold start shows its findings',
  milliseconds(performance.now() - ready),
  `the process until it takes requests: ${milliseconds(ready - start)}`,
);
await everything;
row(
  'everything checked after start',
  milliseconds(performance.now() - start),
  `${client.processorTime() ?? '?'} s of processor time`,
);
row('resident memory then', `${client.memory()?.toFixed(0) ?? '?'} MB`);

let version = 1;
const buildText = textOf(editedPath);
const edited = (round: number): string => exchanged(buildText, '2.4 g', `2.${round % 10} g`);
const editBuild = await timed(
  25,
  async (round) => {
    version++;
    const current = version;
    const reported = client.published([uriOf(editedPath)], (params) => params.version === current);
    await client.change(uriOf(editedPath), current, edited(round));
    await reported;
  },
  5,
);
const parseFloor = await timed(25, (round) => parse(edited(round)), 5);
row(
  'an edit in a build, to its findings',
  milliseconds(editBuild),
  `parsing alone: ${milliseconds(parseFloor)}; ${(editBuild / parseFloor).toFixed(1)} times that`,
);

const KEYS = 40;
/** Keys at a pace, ms: processor time of the server from the first key to the findings after the last, s. */
async function typed(pause: number): Promise<number> {
  const before = client.processorTime() ?? Number.NaN;
  for (let key = 1; key <= KEYS; key++) {
    version++;
    const current = version;
    const reported = key === KEYS && client.published([uriOf(editedPath)], (params) => params.version === current);
    await client.change(uriOf(editedPath), current, exchanged(buildText, '"solder,', `"${'solder'.repeat(key)},`));
    await (reported || new Promise<void>((resolve) => setTimeout(resolve, pause)));
  }
  return (client.processorTime() ?? Number.NaN) - before;
}
for (const pause of [10, 50, 150]) {
  const processorTime = await typed(pause);
  row(
    `${KEYS} keys typed in a build, one every ${pause} ms`,
    `${processorTime.toFixed(2)} s`,
    `of processor time; ${((processorTime * 1000) / KEYS).toFixed(1)} ms per key`,
  );
}

const hover = await timed(25, () =>
  client.connection.sendRequest('textDocument/hover', {
    textDocument: { uri: uriOf(editedPath) },
    position: { line: 3, character: 8 },
  }),
);
row('a hover on a build', milliseconds(hover));
const FLOOD = 500;
/** A hover right behind a number of edits. */
const hoverBehind = (edits: number): Promise<number> =>
  timed(
    9,
    async (round) => {
      for (let edit = 1; edit <= edits; edit++) {
        version++;
        void client.change(uriOf(editedPath), version, exchanged(buildText, '2.4 g', `2.${round}${edit} g`));
      }
      await client.connection.sendRequest('textDocument/hover', {
        textDocument: { uri: uriOf(editedPath) },
        position: { line: 3, character: 8 },
      });
    },
    2,
  );
const behindOne = await hoverBehind(1);
const behindMany = await hoverBehind(FLOOD);
row(
  `a hover behind ${FLOOD} edits at once`,
  milliseconds(behindMany),
  `behind one: ${milliseconds(behindOne)}; ${(behindMany / behindOne).toFixed(1)} times that`,
);
const completion = await timed(25, () =>
  client.connection.sendRequest('textDocument/completion', {
    textDocument: { uri: uriOf(editedPath) },
    position: { line: 13, character: 8 },
  }),
);
row('a completion', milliseconds(completion));

const partText = textOf(partPath);
await client.open(uriOf(partPath), 'fettle', partText);
const users = [uriOf(partPath), ...Array.from({ length: 50 }, (_, i) => uriOf(buildPath(50 + i)))];
let partVersion = 1;
const editPart = await timed(
  12,
  async (round) => {
    partVersion++;
    // The winding's rating comes and goes with a finding in each build: without a change nothing is published.
    const reported = client.published(users);
    await client.change(
      uriOf(partPath),
      partVersion,
      exchanged(partText, 'rated: 3S .. 4S', round % 2 === 0 ? 'rated: 2S' : 'rated: 3S .. 4S'),
    );
    await reported;
  },
  3,
);
row('an edit in a part: its file and all 50 builds on it, with ±', milliseconds(editPart));
client.stop();

// ---- a YAML server that validates the same build by a JSON schema ----

const yaml = join(root, '.cache/yaml');
if (!existsSync(join(yaml, 'node_modules'))) {
  mkdirSync(yaml, { recursive: true });
  cpSync(join(import.meta.dirname, 'yaml'), yaml, { recursive: true });
  spawnSync('npm', ['ci', '--no-audit', '--no-fund', '--loglevel=error'], { cwd: yaml, stdio: 'inherit' });
}
const yamlFolder = join(work, 'yaml');
mkdirSync(yamlFolder);
writeFileSync(join(yamlFolder, 'schema.json'), JSON.stringify(YAML_SCHEMA));
const yamlUri = pathToFileURL(join(yamlFolder, 'build.yaml')).toString();
const yamlClient = await Client.start(
  [process.execPath, join(yaml, 'node_modules/yaml-language-server/bin/yaml-language-server'), '--stdio'],
  yamlFolder,
  {
    yaml: {
      validate: true,
      schemas: { [pathToFileURL(join(yamlFolder, 'schema.json')).toString()]: '*.yaml' },
      schemaStore: { enable: false },
    },
  },
);
const first = yamlClient.published([yamlUri], ({ diagnostics }) => diagnostics.length > 0);
await yamlClient.open(yamlUri, 'yaml', exchanged(YAML_BUILD, 'duty: 66', 'duty: 166'));
await first;
let yamlVersion = 1;
const editYaml = await timed(
  12,
  async (round) => {
    yamlVersion++;
    const wrong = round % 2 === 1;
    // The schema's finding comes and goes: its publication is the answer to this edit and to no other.
    const reported = yamlClient.published([yamlUri], ({ diagnostics }) => diagnostics.length > 0 === wrong);
    await yamlClient.change(yamlUri, yamlVersion, wrong ? exchanged(YAML_BUILD, 'duty: 66', 'duty: 166') : YAML_BUILD);
    await reported;
  },
  2,
);
yamlClient.stop();
row(
  'an edit in the same build as YAML, to its schema findings',
  milliseconds(editYaml),
  `${(editYaml / editBuild).toFixed(1)} times ours`,
);

// ---- start-up and the command ----

const exampleFolder = join(work, 'examples');
cpSync(join(root, 'examples'), exampleFolder, { recursive: true });
const startUp = await timed(
  5,
  async () => {
    const small = await Client.start(server, exampleFolder);
    const path = join(exampleFolder, 'builds/rafter.fettle');
    const reported = small.published([pathToFileURL(path).toString()]);
    await small.open(pathToFileURL(path).toString(), 'fettle', readFileSync(path, 'utf8'));
    await reported;
    small.stop();
  },
  1,
);
row('server start to first findings on the examples', milliseconds(startUp));
const run = (args: readonly string[]) => () => spawnSync(process.execPath, [command, ...args], { stdio: 'ignore' });
const bare = await timed(7, () => spawnSync(process.execPath, ['-e', '0'], { stdio: 'ignore' }));
const versionTime = await timed(7, run(['--version']));
row('fettle --version', milliseconds(versionTime), `bare Node: ${milliseconds(bare)}`);
const clientStart = join(root, 'test/bench/client-start.cjs');
const loadings = Array.from({ length: 7 }, () =>
  Number(spawnSync(process.execPath, [clientStart], { encoding: 'utf8' }).stdout),
);
const loading = loadings.sort((a, b) => a - b)[3] ?? Number.NaN;
row('the extension’s client, loaded by an editor', milliseconds(loading), `bare Node: ${milliseconds(bare)}`);
row('fettle check on the examples', milliseconds(await timed(5, run(['check', exampleFolder]))));
row(`fettle check on ${builds} builds, in threads`, milliseconds(await timed(3, run(['check', large]), 0)));

const git = (...args: string[]) =>
  spawnSync('git', ['-c', 'user.name=Bench', '-c', 'user.email=bench@example.org', ...args], { cwd: large });
git('init', '-q');
git('add', '-A');
git('commit', '-qm', 'as it was');
const drawer = join(large, 'parts/p3/motors.fettle');
writeFileSync(drawer, exchanged(readFileSync(drawer, 'utf8'), 'mass: 14.7 g', 'mass: 14.9 g'));
const review = () =>
  spawnSync(process.execPath, [command, 'review', '--base', 'HEAD'], { cwd: large, stdio: 'ignore' });
row(`fettle review of one part among ${builds} builds`, milliseconds(await timed(3, review, 0)));

rmSync(work, { recursive: true, force: true });
