import { expect, test } from 'vitest';
import { HoverRequest, type MarkupContent } from 'vscode-languageserver-protocol/node';
import { sharedSession } from './one-session.ts';
import type { Session } from './session.ts';
import { BOARDS, PARTS, RAFTER, WORKSHOP } from './workshop.ts';

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

test('a build shows its packs side by side, each value with its ±', async () => {
  const session = theSession();
  await session.open(BUILD, RAFTER);
  for (const piece of ['build', 'Rafter']) {
    const text = await hover(session, BUILD, piece);
    expect(text).toMatch(/\|.*`Slim900_3S`.*\|.*`Slim900_5S` duty 58 %.*\|/);
    expect(text).toMatch(/\| all-up weight \| \d+\.?\d* ± \d+\.?\d* g \|/);
    // 58 % of 3900 rpm/V.
    expect(text).toMatch(/\| effective kV \| 3900 ± \d+ rpm\/V \| 2260 ± \d+ rpm\/V \|/);
    for (const label of [
      'thrust-to-weight',
      'hover duty',
      'hover time',
      'land at, read in hover, per cell',
      'limited by',
    ]) {
      expect(text).toContain(`| ${label} |`);
    }
    expect(text).toContain('Measure first: **');
  }
});

test('the all-up weight in a hover is the sum of the parts', async () => {
  const session = theSession();
  await session.open(BUILD, RAFTER);
  const sum = 47.5 + 4 * (12.4 + 1.52) + 11.3 + 16.2 + 1.6 + 78.1;
  const shown = Number(/all-up weight \| ([\d.]+)/.exec(await hover(session, BUILD, 'build'))?.[1]);
  // Small things nobody weighs (solder, screws) may add a little.
  expect(shown).toBeGreaterThanOrEqual(Math.floor(sum));
  expect(shown).toBeLessThan(1.08 * sum);
});

test('a build names what limits it', async () => {
  const session = theSession();
  await session.open(BUILD, RAFTER.replace(' duty 58 %', ''));
  expect(await hover(session, BUILD, 'build')).toMatch(/\| limited by \| – \| .*motor-overvoltage.* \|/);
});

test('what several packs meet at one place is named for each', async () => {
  const session = theSession();
  await session.open(BUILD, RAFTER.replace('hover_time >= 1 min', 'hover_time >= 60 min'));
  expect(await hover(session, BUILD, 'build')).toMatch(/\| limited by \| short-flight \| short-flight \|/);
});

test('a pack line shows that option alone', async () => {
  const session = theSession();
  await session.open(BUILD, RAFTER);
  for (const piece of ['Slim900_5S', '58 %']) {
    const text = await hover(session, BUILD, piece);
    expect(text).toContain('**Rafter on Slim900_5S**');
    expect(text).not.toContain('`Slim900_3S`');
  }
});

test('a part shows its comment, title, figures and users, also where it is named', async () => {
  const session = theSession();
  await session.open(BUILD, RAFTER);
  const text = await hover(session, BUILD, 'M1506_3900');
  expect(text).toContain('**motor M1506_3900** – 1506 stator');
  expect(text).toContain('The winding the roof-void craft flies on.');
  expect(text).toMatch(/\| resistance \| 74 ± \d+ mohm \| measured \(milliohm meter\) \|/);
  expect(text).toContain('Used in Rafter.');
});

test('a test stand shows the builds that read its rows', async () => {
  const session = theSession();
  await session.open(BUILD, RAFTER);
  const bench =
    'bench Kitchen {\n  motor: M1506_3900\n  propeller: P3022x3\n  rows duty in %, thrust in gf { 50, 30 }\n}\n';
  await session.open('parts/stands.fettle', `fettle 1\n${bench}`);
  expect(await hover(session, 'parts/stands.fettle', 'Kitchen')).toContain('Used in Rafter.');
  await session.close('parts/stands.fettle');
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

test('a rail shows its figures', async () => {
  const session = theSession();
  await session.open(BUILD, RAFTER);
  expect(await hover(session, BUILD, 'video')).toMatch(/\*\*rail video\*\*[\s\S]*\| output \| 5\.0/);
});

test('a property shows its sentence, its range and its present value', async () => {
  const session = theSession();
  await session.open('parts/motors.fettle', PARTS);
  const text = await hover(session, 'parts/motors.fettle', 'resistance');
  expect(text).toContain('Between two of the three wires');
  expect(text).toContain('plausible from 3 to 3000 mohm');
  expect(text).toContain('When absent: from stator size and kv');
  expect(text).toMatch(/Here 74 ± \d+ mohm, measured/);
});

test('a number shows itself in other units, its ± and its origin', async () => {
  const session = theSession();
  await session.open('parts/motors.fettle', PARTS);
  const text = await hover(session, 'parts/motors.fettle', '12.40 g');
  // 1 oz is 28.349523 g exactly enough.
  expect(text).toContain('0.4374 oz');
  expect(text).toMatch(/12\.40 ± 0\.\d+ g, measured/);
});

test('volts of a pack are not written as volts per cell, nor a discharge rate as a frequency', async () => {
  const session = theSession();
  const path = 'builds/units.fettle';
  await session.open(
    path,
    'load Lamp { draw: 3 W  supply: 14.2 V }\npack Odd { cells: 4S  capacity: 900 mAh  discharge: 83C }\n',
  );
  expect(await hover(session, path, '14.2')).not.toContain('/cell');
  expect(await hover(session, path, '83C')).not.toContain('Hz');
  expect(await hover(session, path, '900')).toContain('0.9 Ah');
  await session.close(path);
});

test('a requirement shows both sides on each pack', async () => {
  const session = theSession();
  await session.open(BUILD, RAFTER);
  const text = await hover(session, BUILD, 'require');
  expect(text).toContain('**require** `hover_time >= 1 min`');
  expect(text).toMatch(
    /\| `Slim900_3S` \| holds \| hover time [\d.]+ \([\d.]+ to [\d.]+\) min, required ≥ 1 min; the pack may weigh \d+ ± \d+ g more \|/,
  );
  expect(text).toContain('Because one roof bay and back.');
});

test('a result shows its value on each pack and where its ± comes from', async () => {
  const session = theSession();
  await session.open(BUILD, RAFTER);
  const text = await hover(session, BUILD, 'hover_time');
  expect(text).toContain('From a full pack to the reserve');
  expect(text).toMatch(/\| `Slim900_5S` \| [\d.]+ \([\d.]+ to [\d.]+\) min \|/);
  expect(text).toContain('± mostly from');
  expect(await hover(session, BUILD, 'voltage')).toMatch(
    /`rail\.video\.voltage`[\s\S]*\| `Slim900_3S` \| [\d.]+.* V \|/,
  );
});

test('a finding, a choice and the path of a use are explained', async () => {
  const session = theSession();
  await session.open(BUILD, `${RAFTER.replace('require h', 'accept pack-oversag because "x"\n  require h')}`);
  expect(await hover(session, BUILD, 'pack-oversag')).toMatch(/\(file:\S+\/findings\/pack-oversag\.md\)/);
  expect(await hover(session, BUILD, '../parts')).toMatch(/motor: `M1506_3900`/);
  await session.open('parts/boards.fettle', BOARDS);
  expect(await hover(session, 'parts/boards.fettle', 'buck')).toContain('Steps down');
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

test('nothing where there is nothing', async () => {
  const session = theSession();
  await session.open('a.fettle', '// bats\n\nitem Strap { mass: 1.6 g }\n');
  const answer = await session.connection.sendRequest(
    HoverRequest.type,
    session.at('a.fettle', { line: 1, character: 0 }),
  );
  expect(answer).toBeNull();
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

test('a requirement behind like states whether it replaces or adds, and a weighed base what came on top', async () => {
  const session = theSession();
  const path = 'builds/loaded.fettle';
  const text = `${RAFTER}
build Weighed like Rafter { dry_mass: 142 g  require hover_time >= 9 min }
build Loaded like Weighed {
  item: 12 g "lantern"
  require hover_time >= 1 min
  require hover_duty <= 90 %
}
`;
  await session.open(path, text);
  expect(await hover(session, path, 'require', text.split('require').length - 2)).toContain(
    'Replaces `hover_time >= 9 min` of the base build.',
  );
  expect(await hover(session, path, 'require', text.split('require').length - 1)).toContain(
    'Adds to what `Weighed` requires.',
  );
  const requirement = 'require all_up_weight <= 900 g';
  const longer = `${text}build More like Loaded { ${requirement} }\n`;
  await session.open(
    'builds/more.fettle',
    longer.replaceAll('Rafter', 'Rafter2').replace('build Rafter2 like Rafter2', 'build Rafter2'),
  );
  const sum = await hover(session, 'builds/more.fettle', 'all_up_weight', longer.split('all_up_weight').length - 1);
  expect(sum).toContain('| dry mass of Weighed, weighed | 142.0 ± 1.4 g |');
  expect(sum).toContain('| lantern | 12.0 ± 0.6 g |');
});
