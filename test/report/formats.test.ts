/** What `fettle check --format …` prints for machines and forges: valid for whoever reads it, and nothing that a file states is markup in it. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { ValidateFunction } from 'ajv';
import draft4 from 'ajv-draft-04';
import formats from 'ajv-formats';
import { XMLParser, XMLValidator } from 'fast-xml-parser';
import { marked } from 'marked';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { CHECK_FORMATS, type CheckFormat } from '../../packages/language/src/cli/formats.ts';
import { oneIn } from '../long.ts';
import { CheckedFolder, printed } from './checked-folder.ts';

const schemaFile = join(import.meta.dirname, '../reference/schemas/sarif-2.1.0.json');

const craft = new CheckedFolder();
const hostile = 'A "quote", <b onclick=x>bold</b> [link](https://bad.example) | `code` @owner #1 100 % : ::error::x';

beforeAll(() => {
  craft.write(
    'odd/owls, 50 % <of> them.fettle',
    `item Owl "${hostile.replaceAll('"', '“')}" { note "🦉🦉" mass: 3 mm }\n`,
  );
  craft.write(
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
  accept motor-overvoltage because "bench only, ${hostile.replaceAll('"', '“')} \u202e\u001b[31m"
}
`,
  );
});
afterAll(() => craft.remove());

const print = (format: CheckFormat, ...paths: string[]) => craft.print(format, ...paths);

/** What a terminal would obey, and what turns text round. */
const DRIVES_A_TERMINAL = /(?!\n)[\p{Cc}\p{Cf}]/u;

let again: ReturnType<typeof craft.checkedAnew> | undefined;

const [WIDE = ''] = oneIn(2, ['examples/broken', 'examples']).slice(-1);
const [TWICE = []] = oneIn(2, [['odd'], ['examples', 'odd']]).slice(-1);

describe.each(CHECK_FORMATS)('%s', (format) => {
  it('is the same twice', async () => {
    const once = await print(format, ...TWICE);
    again ??= craft.checkedAnew(...TWICE);
    expect(await printed(format, await again)).toBe(once);
  });

  it('reports that a file could not be read', async () => {
    const out = await print(format, 'nowhere');
    expect(out).toContain('nowhere');
    expect(out).toContain('there is no such file or folder');
  });

  it('lets nothing in a file drive a terminal', async () => {
    expect(await print(format, 'odd')).not.toMatch(DRIVES_A_TERMINAL);
  });
});

// The format of code quality has no word for it.
it.each(CHECK_FORMATS.filter((format) => format !== 'gitlab'))(
  '%s shows what was accepted with the reason',
  async (format) => {
    expect(await print(format, 'odd')).toContain('bench only');
  },
);

describe('SARIF', () => {
  let validate: ValidateFunction;
  beforeAll(() => {
    const ajv = new draft4.default({ strict: false });
    formats.default(ajv as never);
    validate = ajv.compile(JSON.parse(readFileSync(schemaFile, 'utf8')));
  });

  it.for(['odd', WIDE, 'nowhere'])('is valid against the published schema: %s', async (path) => {
    const isValid = validate(JSON.parse(await print('sarif', path)));
    expect(validate.errors ?? []).toEqual([]);
    expect(isValid).toBe(true);
  });

  const runOf = async (...paths: string[]) => JSON.parse(await print('sarif', ...paths)).runs[0];

  it('contains rules with help, columns in UTF-16 units, related places and fixes', async () => {
    const run = await runOf('examples/broken');
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

  it('knows a finding again when lines move, and distinguishes alike ones', async () => {
    const prints = async () => {
      const { results } = await runOf('moved');
      return results.map((result: { partialFingerprints: Record<string, string> }) =>
        Object.values(result.partialFingerprints).join(),
      );
    };
    const slip = 'item Owl { mass: 3 mm }\n';
    craft.write('moved/a.fettle', `${slip}item Bat { mass: 3 mm  price: 3 mm }\n`);
    const before = await prints();
    expect(new Set(before).size).toBe(before.length);
    craft.write('moved/a.fettle', `// a line more\n\n${slip}item Bat { mass: 3 mm  price: 3 mm }\n`);
    expect(await prints()).toEqual(before);
  });

  it('names files by URI, and columns as editors count them', async () => {
    const { results } = await runOf('odd');
    const [{ artifactLocation, region }] = results
      .filter(({ ruleId }: { ruleId: string }) => ruleId === 'wrong-dimension')
      .map(({ locations }: { locations: { physicalLocation: unknown }[] }) => locations[0]?.physicalLocation);
    expect(artifactLocation.uri).toBe('odd/owls%2C%2050%20%25%20%3Cof%3E%20them.fettle');
    const line = readFileSync(join(craft.folder, 'odd/owls, 50 % <of> them.fettle'), 'utf8');
    expect(line.slice(region.startColumn - 1, region.endColumn - 1)).toBe('mm');
  });

  it('suppresses what the build accepts', async () => {
    const { results } = await runOf('odd');
    const accepted = results.find(({ ruleId }: { ruleId: string }) => ruleId === 'motor-overvoltage');
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
  const issuesOf = async (...paths: string[]) => JSON.parse(await print('gitlab', ...paths));

  it('has of each finding what the server reads, each with a mark of its own', async () => {
    const issues = [...(await issuesOf(WIDE)), ...(await issuesOf('odd'))];
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
    const [overvoltage] = (await issuesOf('examples/broken')).filter(
      ({ check_name }: { check_name: string }) => check_name === 'motor-overvoltage',
    );
    expect(overvoltage).toMatchObject({
      description: expect.stringMatching(/^OneCellMore on Mast950_5S: M1606_3150 is wound for 3S to 4S/),
      severity: 'minor',
      location: { path: 'examples/broken/one-cell-more.fettle', lines: { begin: 18, end: 18 } },
    });
  });

  it('knows a finding again when lines above it come', async () => {
    const line = 'item Owl { mass: 3 mm }\n';
    craft.write('marks/a.fettle', line);
    const [before] = await issuesOf('marks');
    craft.write('marks/a.fettle', `// one\n// two\n${line}${line}`);
    const after = (await issuesOf('marks')).filter(
      ({ check_name }: { check_name: string }) => check_name === 'wrong-dimension',
    );
    expect(after.map(({ location }: { location: { lines: { begin: number } } }) => location.lines.begin)).toEqual([
      3, 4,
    ]);
    expect(after[0].fingerprint).toBe(before.fingerprint);
    expect(after[1].fingerprint).not.toBe(before.fingerprint);
  });

  it('reports what could not be read, and leaves out what is accepted', async () => {
    expect(await print('gitlab', 'odd')).not.toContain('motor-overvoltage');
    expect(await issuesOf('nowhere')).toMatchObject([{ check_name: 'not-read', severity: 'blocker' }]);
  });
});

describe('annotations for a workflow run', () => {
  it('put the most severe first, at file, line and columns', async () => {
    const commands = commandsOf(await print('github', 'examples/broken'));
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

  it('survive commas, colons and per cent signs; a command in a text is none', async () => {
    const out = await print('github', 'odd');
    const commands = commandsOf(out);
    expect(commands.map((one) => (one as { file?: string }).file)).toContain('odd/owls, 50 % <of> them.fettle');
    expect(commands.find(({ text }) => text.includes('bench only'))).toMatchObject({ name: 'notice' });
    expect(out.match(/^::error::x/m)).toBeNull();
  });
});

describe('Markdown', () => {
  it('has in its first line whether to worry', async () => {
    expect(await print('markdown', 'examples/broken')).toMatch(/^## Not fit to fly: \d+ errors, \d+ warnings?\n/);
    expect(await print('markdown', 'examples/builds')).toMatch(/^## No error and no warning\n/);
  });

  it('has one table per build and folds the notes', async () => {
    const out = await print('markdown', 'examples/builds');
    const html = await marked(out);
    // Spire has one of its flight as well.
    expect(html.match(/<table>/g)).toHaveLength(7);
    expect(html).toMatch(/<td>Eaves1150_3S|<td[^>]*><code>Eaves1150_3S<\/code>/);
    expect(out).toMatch(/<details><summary>\d+ notes<\/summary>/);
  });

  it('shows hostile words as they read', async () => {
    const html = await marked(await print('markdown', 'odd'));
    expect(html).not.toMatch(/<b |<a |href=/);
    expect(html).toContain('&lt;b onclick=x&gt;');
  });
});

describe('JUnit XML', () => {
  const suitesOf = async (...paths: string[]) => {
    const out = await print('junit', ...paths);
    expect(XMLValidator.validate(out)).toBe(true);
    const parser = new XMLParser({
      ignoreAttributes: false,
      attributeNamePrefix: '',
      isArray: (name) => name === 'testcase' || name === 'testsuite',
    });
    return parser.parse(out).testsuites;
  };

  it('is one suite per file and one case per build and pack, whatever was found', async () => {
    const { testsuite } = await suitesOf('examples/builds/gable.fettle');
    const [suite] = testsuite;
    expect(suite.testcase.map(({ name }: { name: string }) => name)).toEqual([
      'text',
      'Gable',
      'Gable on Eaves1150_3S',
      'Gable on Round2600_3S',
    ]);
  });

  it('fails the case that has an error, and counts it', async () => {
    const suites = await suitesOf('examples/broken/second-cell.fettle');
    expect(suites).toMatchObject({ failures: '1', errors: '0' });
    const failing = suites.testsuite[0].testcase.filter(({ failure }: { failure?: unknown }) => failure !== undefined);
    expect(failing).toMatchObject([{ name: 'SecondCell on Stick380_2S', failure: { type: 'esc-overvoltage' } }]);
  });

  it('keeps hostile names and what is accepted as text', async () => {
    const { testsuite, failures } = await suitesOf('odd');
    expect(failures).toBe('1');
    expect(testsuite.map(({ name }: { name: string }) => name)).toContain('odd/owls, 50 % <of> them.fettle');
    expect(JSON.stringify(testsuite)).toContain('(accepted: bench only, A “quote“, <b onclick=x>');
  });
});
