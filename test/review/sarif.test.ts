/** A review as SARIF: valid, each finding with what became of it, and known again by `check`. Needs the build. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import draft4 from 'ajv-draft-04';
import formats from 'ajv-formats';
import { describe, expect, it } from 'vitest';
import { CRAFT } from '../report/review/rooftop-craft.ts';
import { Repository } from './repository.ts';

const schemaFile = join(import.meta.dirname, '../reference/schemas/sarif-2.1.0.json');

interface Result {
  readonly ruleId: string;
  readonly baselineState?: string;
  readonly suppressions?: readonly unknown[];
  readonly partialFingerprints: Readonly<Record<string, string>>;
  readonly properties?: { readonly status?: string; readonly packs?: readonly string[] };
  readonly locations: readonly {
    readonly physicalLocation: { readonly artifactLocation: { readonly uri: string }; readonly region: unknown };
  }[];
}

function logOf(repository: Repository, ...args: string[]) {
  const { out, err, code } = repository.fettle(...args, '--format', 'sarif');
  if (out === '') throw new Error(err);
  return { code, log: JSON.parse(out), results: JSON.parse(out).runs[0].results as Result[] };
}

/** "motor-overvoltage new builds/rafter.fettle" */
const reported = ({ ruleId, baselineState, locations }: Result): string =>
  `${ruleId} ${baselineState} ${locations[0]?.physicalLocation.artifactLocation.uri}`;

describe('a review as SARIF', () => {
  it('is valid, and each result states what became of it', () => {
    using repository = new Repository({
      ...CRAFT,
      'builds/gone.fettle': 'item Gone { mass: 3 V }\n',
      'builds/stays.fettle': 'item Stays { mass: 3 V }\nitem Fine { mass: 3 g }\n',
    });
    repository
      .branch('change')
      .edit('builds/rafter.fettle', 'duty 58 %', 'duty 100 %')
      .edit('builds/gone.fettle', '3 V', '3 g')
      .edit('builds/stays.fettle', 'Fine { mass: 3 g', 'Fine { mass: 4 g')
      .commit();
    const { code, log, results } = logOf(repository, 'review', '--base', 'main');
    expect(code).toBe(1);
    const ajv = new draft4.default({ strict: false });
    formats.default(ajv as never);
    const validate = ajv.compile(JSON.parse(readFileSync(schemaFile, 'utf8')));
    expect([validate(log), validate.errors ?? []]).toEqual([true, []]);
    const all = results.map(reported);
    expect(all).toContain('motor-overvoltage new builds/rafter.fettle');
    expect(all).toContain('wrong-dimension absent builds/gone.fettle');
    expect(all).toContain('wrong-dimension unchanged builds/stays.fettle');
    expect(results.filter(({ baselineState }) => baselineState === undefined)).toEqual([]);
    // What is gone is reported where it was.
    const gone = results.find((one) => reported(one).includes('absent'));
    expect(gone?.locations[0]?.physicalLocation.region).toMatchObject({ startLine: 1, startColumn: 21 });
  });

  it('calls what got worse, or is accepted now, updated, with its word', () => {
    using repository = new Repository(CRAFT);
    repository.edit('builds/rafter.fettle', 'duty 58 %', 'duty 100 %').commit();
    repository
      .branch('change')
      .edit('builds/rafter.fettle', 'duty 100 %', 'duty 100 %\n  accept motor-overvoltage because "on the bench"')
      .commit();
    const { results } = logOf(repository, 'review', '--base', 'main');
    const accepted = results.find(({ ruleId }) => ruleId === 'motor-overvoltage');
    expect(accepted).toMatchObject({ baselineState: 'updated', properties: { status: 'accepted' } });
    expect(accepted?.suppressions).toHaveLength(1);
  });

  it('knows a finding by the fingerprint that a check gives it, from any folder', () => {
    using repository = new Repository(CRAFT);
    repository.branch('change').edit('builds/rafter.fettle', 'duty 58 %', 'duty 100 %').commit();
    const printOf = (results: readonly Result[]) =>
      results.find(({ ruleId }) => ruleId === 'motor-overvoltage')?.partialFingerprints;
    const checked = printOf(logOf(repository, 'check').results);
    expect(checked).toBeDefined();
    expect(printOf(logOf(repository, 'review', '--base', 'main').results)).toEqual(checked);
  });

  it('of a file that cannot be judged reports that', () => {
    using repository = new Repository(CRAFT);
    repository.branch('change').write({ 'builds/bytes.fettle': 'item A { mass: 3 g }\0\n' }).commit();
    const { code, log } = logOf(repository, 'review', '--base', 'main');
    expect(code).toBe(2);
    expect(log.runs[0].invocations[0]).toMatchObject({ executionSuccessful: false });
  });
});
