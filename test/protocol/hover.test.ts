/** What a hover shows beyond words at a place; those are in `test/marked/hover`. */
import { expect, test } from 'vitest';
import { HoverRequest, type MarkupContent } from 'vscode-languageserver-protocol/node';
import { sharedSession } from './one-session.ts';
import type { Session } from './session.ts';
import { RAFTER, WORKSHOP } from './workshop.ts';

const theSession = sharedSession({ files: WORKSHOP });
const BUILD = 'builds/rafter.fettle';

async function hover(session: Session, path: string, piece: string, occurrence = 1): Promise<string> {
  const answer = await session.connection.sendRequest(
    HoverRequest.type,
    session.at(path, session.inside(path, piece, occurrence)),
  );
  const contents = answer?.contents as MarkupContent | undefined;
  expect(contents?.kind ?? 'markdown').toBe('markdown');
  return contents?.value ?? '';
}

test('the all-up weight in a hover is the sum of the parts', async () => {
  const session = theSession();
  await session.open(BUILD, RAFTER);
  const sum = 47.5 + 4 * (12.4 + 1.52) + 11.3 + 16.2 + 1.6 + 78.1;
  const shown = Number(/all-up weight \| ([\d.]+)/.exec(await hover(session, BUILD, 'build'))?.[1]);
  // Small things nobody weighs (solder, screws) may add a little.
  expect(shown).toBeGreaterThanOrEqual(Math.floor(sum));
  expect(shown).toBeLessThan(1.08 * sum);
});

test('a part shows how near it is to its limits in the worst build', async () => {
  const session = theSession();
  await session.open(BUILD, RAFTER);
  await session.open(
    'builds/towing.fettle',
    'use "../parts"\n\nbuild Towing like Rafter {\n  pack: Slim900_5S as Full\n}\n',
  );
  const text = await hover(session, BUILD, 'M1506_3900');
  // The five-cell pack at full duty drives more current than anything in Rafter.
  const [, flows, allowed, percent] =
    /Nearest to a limit in Towing on `Full`: ([\d.]+) \([\d.]+ to [\d.]+\) A of ([\d.]+) A \(M1506_3900, burst rating\), (\d+) %\./.exec(
      text,
    ) ?? [];
  expect(Number(allowed)).toBe(17);
  // Amperes are printed whole where their ± is some.
  expect(Math.abs(Number(percent) - (100 * Number(flows)) / Number(allowed))).toBeLessThan(50 / 17 + 1);
  expect(await hover(session, BUILD, 'Strap')).not.toContain('limit');
});

test('a finding links to its page', async () => {
  const session = theSession();
  await session.open(BUILD, `${RAFTER.replace('require h', 'accept pack-oversag because "x"\n  require h')}`);
  expect(await hover(session, BUILD, 'pack-oversag')).toMatch(/\(file:\S+\/findings\/pack-oversag\.md\)/);
});

test('a hostile title is shown and not obeyed', async () => {
  const session = theSession();
  const title = '<img src=x onerror=alert(1)> [go](command:evil) ![i](http://x/y) **bold** `code` | cell';
  await session.open('evil.fettle', `// # heading <b>\n// [a](command:b)\nitem Evil "${title}" { mass: 1 g }\n`);
  const text = await hover(session, 'evil.fettle', 'Evil');
  expect(text).not.toMatch(/<(img|b)\b/);
  expect(text).not.toMatch(/(?<!\\)\]\(/);
  expect(text).not.toMatch(/(?<!\\)\*\*bold/);
  expect(text).not.toMatch(/(?:command|https?):/);
  expect(text).not.toMatch(/^# /m);
});

test('a pack of a build shows its effect on that build first, wherever its name is', async () => {
  const session = theSession();
  const text = RAFTER.replace('Slim900_5S duty', 'Slim900_5S as Gentle duty').replace(
    '>= 4.5 V',
    '>= 4.5 V with Gentle because "it is cold"',
  );
  await session.open(BUILD, text);
  for (const occurrence of [1, 2]) {
    const shown = await hover(session, BUILD, 'Gentle', occurrence);
    expect(shown).toMatch(/^\*\*Rafter on Gentle\*\*/);
    expect(shown.indexOf('all-up weight')).toBeLessThan(shown.search(/\*\*pack Slim900.?_5S\*\*/));
  }
});
