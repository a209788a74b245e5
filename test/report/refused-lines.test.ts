/**
 * Lines that are typed wrongly to what decides: each is refused in one line, with what would be right. That the commands print these lines, and
 * nothing else, is in `test/cli/decide-bad-input.test.ts`.
 */
import type { LangiumDocument } from 'langium';
import { beforeAll, describe, expect, it } from 'vitest';
import { shortlistOf } from '../../packages/language/src/cli/choose-asked.ts';
import type { File } from '../../packages/language/src/grammar/generated/ast.ts';
import { choose } from '../../packages/language/src/report/decide/choice.ts';
import { spaceOf } from '../../packages/language/src/trial/candidates.ts';
import { buildWith } from '../../packages/language/src/trial/trial-lines.ts';
import type { Services } from '../../packages/language/src/workspace/services.ts';
import { Workspace } from '../references/memory-workspace.ts';
import { KEPT, TRIED, VARIED } from './refused-lines.ts';

/** A craft of one file: it is read again for every line. */
const SPIRE = `
motor M1606_3150 { stator: 16 x 6 mm  kv: 3150 rpm/V claimed  resistance: 82 mohm  no_load_current: 0.74 A at 10 V  mass: 14.7 g }
propeller P3024x3 { diameter: 76 mm  pitch: 2.4 in  blades: 3  mass: 1.6 g }
esc Board35 { continuous: 35 A  cells: 3S .. 4S  mass: 12 g  rail logic { output: 5 V  continuous: 2 A } }
airframe Open148 { rotors: 4  wheelbase: 148 mm  mass: 61 g }
pack Mast720_4S { cells: 4S  capacity: 720 mAh  mass: 84 g }
pack Mast1050_4S like Mast720_4S { capacity: 1050 mAh  mass: 121 g }
pack Mast1350_4S like Mast720_4S { capacity: 1350 mAh  mass: 152 g }
item Strap { mass: 3 g }
flight FarBay {
  leg: 1 min hover
}
build Spire {
  airframe: Open148
  motors: 4 x M1606_3150 with P3024x3
  esc: Board35
  item: Strap
  pack: Mast720_4S
  flight: FarBay
}
`;

let services: Services;
let spire: LangiumDocument<File>;

beforeAll(async () => {
  const workspace = await Workspace.of({ 'spire.fettle': SPIRE });
  ({ services } = workspace);
  spire = workspace.document('spire.fettle');
});

/** Without a second line, and without the letter that marks what is tried. */
const inOneLine = (message: RegExp) => new RegExp(`^(?!.*[\\nʹ]).*${message.source}`, 's');

it('at least forty ways are tried', () => {
  expect(TRIED.length + KEPT.length + VARIED.length).toBeGreaterThanOrEqual(40);
});

it.each(TRIED)('tried: “%s” is refused with what would be right', async (line, message) => {
  await expect(buildWith(services, spire, 'Spire', [line])).rejects.toThrow(inOneLine(message));
});

it.each(KEPT)('required: “%s” is refused with what would be right', async (text, message) => {
  await expect(buildWith(services, spire, 'Spire', [`require ${text}`.trim()])).rejects.toThrow(inOneLine(message));
});

it('braces and slashes may be in a text', async () => {
  const lines = ['item: 3 g "{tape} // \\"glue\\""', 'require hover_time >= 6 min because "two {bays} // and back"'];
  const { build } = await buildWith(services, spire, 'Spire', lines);
  expect(build.rules.requirements[0]?.because).toBe('two {bays} // and back');
});

describe('what is varied and preferred', () => {
  async function chosen(vary: string, prefer: string, require?: string) {
    const asked = { name: 'Spire', in: [], vary: [vary], prefer: [prefer], require: require ? [require] : [] };
    const { services: reading, document, node } = await shortlistOf(services, asked);
    return choose(await spaceOf(reading, document, node));
  }

  it.each(VARIED)(
    '%j is refused with what would be right',
    async ([vary = '', prefer = 'hover_time', require], message) => {
      await expect(chosen(vary, prefer, require)).rejects.toThrow(inOneLine(message));
    },
  );

  it('is read where only the word of the line is written as well', async () => {
    const { passing } = await chosen('vary: Mast720_4S', 'prefer: hover_time', 'require hover_time >= 1 min');
    expect(passing).toBe(1);
  });
});
