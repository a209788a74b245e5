/** `fettle check --format …` for machines and forges: valid for whoever reads it, and nothing that a file states is markup in it. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { ValidateFunction } from 'ajv';
import draft4 from 'ajv-draft-04';
import formats from 'ajv-formats';
import { XMLParser, XMLValidator } from 'fast-xml-parser';
import { marked } from 'marked';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { root, Workshop } from '../cli/command.ts';
import { oneIn } from '../long.ts';

const schemaFile = join(root, 'test/reference/schemas/sarif-2.1.0.json');

const shop = new Workshop();
const hostile = 'A "quote", <b onclick=x>bold</b> [link](https://bad.example) | `code` @owner #1 100 % : ::error::x';

beforeAll(() => {
  shop.write(
    'odd/owls, 50 % <of> them.fettle',
    `item Owl "${hostile.replaceAll('"', '“')}" { note "🦉🦉" mass: 3 mm }\n`,
  );
  shop.write(
    'odd/accepted.fettle',
    `use "../examples/parts"
use "../examples/rules"
build Kept "Kept \u202e\u001b[31m" {
  rules: SurveyRules
  airframe: Open184
  motors: 4 x M1305_4350 with P3024x3
  esc: Board35
  load: LinkCam from pack
  load: Receiver from Board35.logic
  pack: Mast1050_4S
  accept motor-overvoltage because "bench only, ${hostile.replaceAll('"', '“')}"
}
`,
  );
});
afterAll(() => shop.remove());

const print = (format: string, ...paths: string[]) => shop.fettle('check', ...paths, '--format', format);

/** What a terminal would obey, and what turns text round. */
const DRIVES_A_TERMINAL = /(?!\n)[\p{Cc}\p{Cf}]/u;

const [WIDE = ''] = oneIn(2, ['examples/broken', 'examples']).slice(-1);

describe.each(['sarif', 'github', 'markdown', 'junit'])('%s', (format) => {
  it('is the same twice, and exits as the text does', () => {
    const once = print(format, WIDE, 'odd');
    expect(once.err).toBe('');
    expect(once.code).toBe(1);
    expect(print(format, WIDE, 'odd').out).toBe(once.out);
    expect(print(format, 'examples/builds/gable.fettle').code).toBe(0);
  });

  it('reports that a file could not be read; exit code 2', () => {
    const { code, out } = print(format, 'nowhere');
    expect(code).toBe(2);
    expect(out).toContain('there is no such file or folder');
  });

  it('lets nothing in a file drive a terminal, and shows what was accepted with the reason', () => {
    const { out } = print(format, 'odd');
    expect(out).not.toMatch(DRIVES_A_TERMINAL);
    expect(out).toContain('bench only');
  });
});

describe('SARIF', () => {
  let validate: ValidateFunction;
  beforeAll(() => {
    const ajv = new draft4.default({ strict: false });
    formats.default(ajv as never);
    validate = ajv.compile(JSON.parse(readFileSync(schemaFile, 'utf8')));
  });

  it.for(['odd', 'examples', 'nowhere'])('is valid against the published schema: %s', (path) => {
    const isValid = validate(JSON.parse(print('sarif', path).out));
    expect(validate.errors ?? []).toEqual([]);
    expect(isValid).toBe(true);
  });

  const runOf = (...paths: string[]) => JSON.parse(print('sarif', ...paths).out).runs[0];

  it('contains rules with help, columns in UTF-16 units, related places and fixes', () => {
    const run = runOf('examples/broken');
    expect(run.columnKind).toBe('utf16CodeUnits');
    const result = run.results.find(({ ruleId }: { ruleId: string }) => ruleId === 'motor-overvoltage');
    const rule = run.tool.driver.rules[result.ruleIndex];
    expect(rule.id).toBe('motor-overvoltage');
    expect(rule.help.text).toMatch(/What to do: /);
    expect(result.locations[0].physicalLocation).toEqual({
      artifactLocation: { uri: 'examples/broken/one-cell-more.fettle', uriBaseId: '%SRCROOT%' },
      region: { startLine: 18, startColumn: 3, endLine: 18, endColumn: 19 },
    });
    expect(result.relatedLocations[0].physicalLocation.artifactLocation.uri).toBe('examples/parts/motors.fettle');
    const [replacement] = result.fixes[0].artifactChanges[0].replacements;
    expect(replacement.insertedContent.text).toMatch(/duty 77 %/);
  });

  it('knows a finding again when lines move, and distinguishes alike ones', () => {
    const prints = () => {
      const { results } = runOf('moved');
      return results.map((result: { partialFingerprints: Record<string, string> }) =>
        Object.values(result.partialFingerprints).join(),
      );
    };
    const slip = 'item Owl { mass: 3 mm }\n';
    shop.write('moved/a.fettle', `${slip}item Bat { mass: 3 mm  price: 3 mm }\n`);
    const before = prints();
    expect(new Set(before).size).toBe(before.length);
    shop.write('moved/a.fettle', `// a line more\n\n${slip}item Bat { mass: 3 mm  price: 3 mm }\n`);
    expect(prints()).toEqual(before);
  });

  it('names files by URI, and columns as editors count them', () => {
    const { results } = runOf('odd');
    const [{ artifactLocation, region }] = results
      .filter(({ ruleId }: { ruleId: string }) => ruleId === 'wrong-dimension')
      .map(({ locations }: { locations: { physicalLocation: unknown }[] }) => locations[0]?.physicalLocation);
    expect(artifactLocation.uri).toBe('odd/owls%2C%2050%20%25%20%3Cof%3E%20them.fettle');
    const line = readFileSync(join(shop.folder, 'odd/owls, 50 % <of> them.fettle'), 'utf8');
    expect(line.slice(region.startColumn - 1, region.endColumn - 1)).toBe('mm');
  });

  it('suppresses what the build accepts', () => {
    const accepted = runOf('odd').results.find(({ ruleId }: { ruleId: string }) => ruleId === 'motor-overvoltage');
    expect(accepted.suppressions).toEqual([
      { kind: 'inSource', status: 'accepted', justification: expect.stringMatching(/^bench only/) },
    ]);
    // Not a link, though it looks like one.
    expect(accepted.suppressions[0].justification).toContain('\\[link](');
  });
});

/** As the runner reads a command: name, properties, text. */
function commandsOf(out: string) {
  return out.split('\n').flatMap((line) => {
    const [, name, properties = '', text = ''] = /^::(\w+) (.*?)::(.*)$/.exec(line) ?? [];
    if (name === undefined) return [];
    const plain = (value: string) =>
      value.replace(/%(0D|0A|3A|2C|25)/g, (_, hex) => String.fromCharCode(Number.parseInt(hex, 16)));
    const pairs = properties.split(',').map((pair) => pair.split('=') as [string, string]);
    return [{ name, text: plain(text), ...Object.fromEntries(pairs.map(([key, value]) => [key, plain(value)])) }];
  });
}

describe('code quality', () => {
  const issuesOf = (...paths: string[]) => JSON.parse(print('gitlab', ...paths).out);

  it('has of each finding what the server reads, each with a mark of its own', () => {
    const issues = issuesOf('examples', 'odd');
    expect(issues.length).toBeGreaterThan(10);
    for (const issue of issues) {
      expect(issue).toEqual({
        description: expect.stringMatching(/./),
        check_name: expect.stringMatching(/^[a-z-]+$/),
        severity: expect.stringMatching(/^(info|minor|major|critical|blocker)$/),
        fingerprint: expect.stringMatching(/^[0-9a-f]{16}$/),
        location: {
          path: expect.stringMatching(/^[^/]/),
          lines: { begin: expect.any(Number), end: expect.any(Number) },
        },
      });
    }
    const marks = issues.map(({ fingerprint }: { fingerprint: string }) => fingerprint);
    expect(new Set(marks).size).toBe(marks.length);
    const [overvoltage] = issuesOf('examples/broken/one-cell-more.fettle').filter(
      ({ check_name }: { check_name: string }) => check_name === 'motor-overvoltage',
    );
    expect(overvoltage).toMatchObject({
      description: expect.stringMatching(/^OneCellMore on Mast950_5S: M1606_3150 is wound for 3S to 4S/),
      severity: 'minor',
      location: { path: 'examples/broken/one-cell-more.fettle', lines: { begin: 18, end: 18 } },
    });
  });

  it('knows a finding again when lines above it come', () => {
    const line = 'item Owl { mass: 3 mm }\n';
    shop.write('marks/a.fettle', line);
    const [before] = issuesOf('marks');
    shop.write('marks/a.fettle', `// one\n// two\n${line}${line}`);
    const after = issuesOf('marks').filter(
      ({ check_name }: { check_name: string }) => check_name === 'wrong-dimension',
    );
    expect(after.map(({ location }: { location: { lines: { begin: number } } }) => location.lines.begin)).toEqual([
      3, 4,
    ]);
    expect(after[0].fingerprint).toBe(before.fingerprint);
    expect(after[1].fingerprint).not.toBe(before.fingerprint);
  });

  it('lets no file drive a terminal, reports what could not be read, and keeps silent on what is accepted', () => {
    const { out } = print('gitlab', 'odd');
    expect(out).not.toMatch(DRIVES_A_TERMINAL);
    expect(out).not.toContain('motor-overvoltage');
    expect(issuesOf('nowhere')).toMatchObject([{ check_name: 'not-read', severity: 'blocker' }]);
    expect(print('gitlab', 'examples/builds').code).toBe(0);
    expect(print('gitlab', 'examples', 'odd').code).toBe(1);
  });
});

describe('annotations for a workflow run', () => {
  it('put the most severe first, at file, line and columns', () => {
    const commands = commandsOf(print('github', 'examples/broken').out);
    const rank = ['error', 'warning', 'notice'];
    const ranks = commands.map(({ name }) => rank.indexOf(name));
    expect(ranks).toEqual(ranks.toSorted());
    expect(commands).toContainEqual({
      name: 'notice',
      file: 'examples/broken/one-cell-more.fettle',
      line: '18',
      endLine: '18',
      col: '3',
      endColumn: '19',
      title: 'motor-overvoltage, OneCellMore on Mast950_5S',
      text: expect.stringMatching(/at 100 % duty it sees 21\.8 V.*\nFix: Limit the duty to 77 %/),
    });
  });

  it('survive commas, colons and per cent signs; a command in a text is none', () => {
    const { out } = print('github', 'odd');
    const commands = commandsOf(out);
    expect(commands.map((one) => (one as { file?: string }).file)).toContain('odd/owls, 50 % <of> them.fettle');
    expect(commands.find(({ text }) => text.includes('bench only'))).toMatchObject({ name: 'notice' });
    expect(out.match(/^::error::x/m)).toBeNull();
  });
});

describe('Markdown', () => {
  it('has in its first line whether to worry', () => {
    expect(print('markdown', 'examples/broken').out).toMatch(/^## Not fit to fly: \d+ errors, \d+ warnings?\n/);
    expect(print('markdown', 'examples/builds').out).toMatch(/^## No error and no warning\n/);
  });

  it('has one table per build and folds the notes', async () => {
    const { out } = print('markdown', 'examples/builds');
    const html = await marked(out);
    // Spire has one of its flight as well.
    expect(html.match(/<table>/g)).toHaveLength(7);
    expect(html).toMatch(/<td>Eaves1150_3S|<td[^>]*><code>Eaves1150_3S<\/code>/);
    expect(out).toMatch(/<details><summary>\d+ notes<\/summary>/);
  });

  it('shows hostile words as they read', async () => {
    const html = await marked(print('markdown', 'odd').out);
    expect(html).not.toMatch(/<b |<a |href=/);
    expect(html).toContain('&lt;b onclick=x&gt;');
  });
});

describe('JUnit XML', () => {
  const suitesOf = (...paths: string[]) => {
    const { out } = print('junit', ...paths);
    expect(XMLValidator.validate(out)).toBe(true);
    const parser = new XMLParser({
      ignoreAttributes: false,
      attributeNamePrefix: '',
      isArray: (name) => name === 'testcase' || name === 'testsuite',
    });
    return parser.parse(out).testsuites;
  };

  it('is one suite per file and one case per build and pack, whatever was found', () => {
    const [suite] = suitesOf('examples/builds/gable.fettle').testsuite;
    expect(suite.testcase.map(({ name }: { name: string }) => name)).toEqual([
      'text',
      'Gable',
      'Gable on Eaves1150_3S',
      'Gable on Round2600_3S',
    ]);
  });

  it('fails the case that has an error, and counts it', () => {
    const suites = suitesOf('examples/broken/second-cell.fettle');
    expect(suites).toMatchObject({ failures: '1', errors: '0' });
    const failing = suites.testsuite[0].testcase.filter(({ failure }: { failure?: unknown }) => failure !== undefined);
    expect(failing).toMatchObject([{ name: 'SecondCell on Stick380_2S', failure: { type: 'esc-overvoltage' } }]);
  });

  it('keeps hostile names and what is accepted as text', () => {
    const { testsuite, failures } = suitesOf('odd');
    expect(failures).toBe('1');
    expect(testsuite.map(({ name }: { name: string }) => name)).toContain('odd/owls, 50 % <of> them.fettle');
    expect(JSON.stringify(testsuite)).toContain('(accepted: bench only, A “quote“, <b onclick=x>');
  });
});
