/** Logs in an editor: hover on the line, completion, the block for what was measured; a long log is read meanwhile. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { CompletionRequest, HoverRequest, type MarkupContent } from 'vscode-languageserver-protocol/node';
import { measuredRequest } from '../../packages/language/src/editor/requests/protocol.ts';
import { sharedSession } from './one-session.ts';
import type { Session } from './session.ts';

const example = (path: string) => readFileSync(join(import.meta.dirname, '../../examples', path), 'utf8');
const LOG = example('logs/2026-05-21.csv');
/** The same at many more rows a second. */
const LONG = LOG.split('\n')
  .flatMap((row, i) => {
    const [time, ...cells] = row.split(',');
    if (i === 0 || row === '') return [row];
    return Array.from({ length: 60 }, (_, k) => [Number(time) + k / 120, ...cells].join(','));
  })
  .join('\n');

const CRAFT = `motor M { stator: 16 x 6 mm  kv: 3150 rpm/V  mass: 13 g }
propeller P { diameter: 76 mm  pitch: 61 mm  blades: 3  mass: 1.6 g }
esc Board { channels: 4  continuous: 35 A  mass: 14 g }
pack Mast { cells: 4S  capacity: 1050 mAh  discharge: 95C  mass: 118 g }
`;
const build = (lines: string) =>
  `${CRAFT}build Tower {\n  dry_mass: 179 g\n  motors: 4 x M with P\n  esc: Board\n  pack: Mast\n${lines}}\n`;
const observed = (file: string) =>
  `  observed "tower" with Mast {\n    log time, voltage "volts", current "amps", output "motors (%)" from "${file}"\n  }\n`;

const FILE = 'a.fettle';
const theSession = sharedSession({ files: { 'log.csv': LOG, 'long.csv': LONG } });

async function hover(session: Session, piece: string): Promise<string> {
  const answer = await session.connection.sendRequest(HoverRequest.type, session.at(FILE, session.inside(FILE, piece)));
  return (answer?.contents as MarkupContent | undefined)?.value ?? '';
}

describe('a log in an editor', () => {
  test('hover on its line states what was found, and how far the build is from it', async () => {
    const session = theSession();
    expect(await session.open(FILE, build(observed('log.csv')))).not.toContainEqual(
      expect.objectContaining({ severity: 1 }),
    );
    for (const piece of ['log', 'volts', 'log.csv']) {
      const text = await hover(session, piece);
      expect(text).toContain('- 4 min 11 s in the air, 436 mAh');
      expect(text).toMatch(/\| mean power in the air \| 99\.3 W \| \d+ ± \d+ W \|/);
    }
  });

  test('a long one is read while others have their turn, and then counts', async () => {
    const session = theSession();
    expect(LONG.length).toBeGreaterThan(512_000);
    await session.open(FILE, build(observed('long.csv')));
    await expect.poll(() => hover(session, 'volts'), { timeout: 60_000 }).toContain('4 min 11 s in the air');
  }, 90_000);

  test('a file that changes is read again', async () => {
    const session = theSession();
    await session.open(FILE, build(observed('log.csv')));
    const reported = session.diagnosticsWhere(FILE, (found) =>
      found.some(({ message }) => String(message).includes('line 570 is left out: 3 cells instead of 4')),
    );
    await session.changeFile('log.csv', `${LOG}280,1,2\n`);
    await reported;
    await session.changeFile('log.csv', LOG);
  }, 60_000);

  test('its columns are completed', async () => {
    const session = theSession();
    const at = async (text: string) => {
      const before = text.slice(0, text.indexOf('|'));
      await session.open(FILE, text.replace('|', ''));
      const line = before.split('\n').length - 1;
      const position = { line, character: before.length - before.lastIndexOf('\n') - 1 };
      const answer = await session.connection.sendRequest(CompletionRequest.type, session.at(FILE, position));
      const items = Array.isArray(answer) ? answer : (answer?.items ?? []);
      await session.close(FILE);
      return items.map(({ label }) => label);
    };
    expect(await at(build('  observed "tower" with Mast {\n    |\n  }\n'))).toEqual(
      expect.arrayContaining(['log', 'scale', 'put_back', 'on']),
    );
    expect(await at(build('  observed "tower" with Mast {\n    log |\n  }\n'))).toEqual(
      expect.arrayContaining(['time', 'voltage', 'current', 'output', 'height']),
    );
    expect(await at(build('  observed "tower" with Mast {\n    log time in |\n  }\n'))).toEqual(
      expect.arrayContaining(['s', 'ms']),
    );
  });
});

test('the block for what was measured has the expected readings as tab stops', async () => {
  const session = theSession();
  await session.open(FILE, build(''));
  const { range, snippet } = await session.connection.sendRequest(measuredRequest, {
    uri: session.uri(FILE),
    build: 'Tower',
  });
  expect(session.textAt(FILE, { ...range, end: { line: range.end.line, character: 1 } })).toBe('}');
  expect(snippet).toMatch(/^ {2}observed "\$\{1:place, day\}" with Mast \{\n {4}on: \$\{2:\d{4}-\d\d-\d\d\}\n/);
  expect(snippet).toMatch(/\n {4}airborne: \$\{\d:\d+\} s\n {4}put_back: \$\{\d:[\d.]+\} mAh\n {2}\}\$0\n$/);
  const plain = snippet.replace(/\$\{\d+:([^}]*)\}/g, '$1').replace('$0', '');
  const text = session.document(FILE).getText();
  const at = session.document(FILE).offsetAt(range.start);
  const found = await session.change(FILE, text.slice(0, at) + plain + text.slice(at));
  expect(found.filter(({ severity }) => severity === 1)).toEqual([]);
  await expect(
    session.connection.sendRequest(measuredRequest, { uri: session.uri(FILE), build: 'None' }),
  ).rejects.toThrow('None has no block to write into');
});
