/** Plugs that a file declares: what they connect to, their ratings and their resistance. */
import { describe, expect, it } from 'vitest';
import { checkedIn } from './findings-in.ts';

const PARTS = `
motor M { stator: 14 x 4 mm  kv: 4600 rpm/V  resistance: 110 mohm  mass: 8.5 g }
propeller P { diameter: 76 mm  blades: 2  mass: 1.1 g }
esc Drive { channels: 4  continuous: 20 A  mass: 6 g }
airframe Open { rotors: 4  wheelbase: 130 mm  mass: 30 g }
plug Shop "the club's own" { mates: Bullet2  continuous: 30 A  burst: 80 A for 10 s  resistance: 1.2 mohm measured }
plug Gold { continuous: 30 A  resistance: 0.8 mohm }
plug Twin like Gold { mates: Gold }
plug Thin { mates: Gold  continuous: 2 A }
plug Brief { mates: Gold  burst: 5 A for 2 s }
pack Slim { cells: 3S  capacity: 650 mAh  cell_resistance: 12 mohm measured  mass: 52 g }
`;

async function check(packPlug: string, leadPlug: string) {
  const text = `${PARTS}
pack Plugged like Slim { ${packPlug && `plug: ${packPlug}`} }
lead Tail { wire: 16 AWG  length: 60 mm  mass: 3 g  ${leadPlug && `plug: ${leadPlug}`} }
build Craft { airframe: Open  motors: 4 x M with P  esc: Drive  lead: Tail  pack: Plugged }`;
  const { findings, builds } = (await checkedIn({ 'craft.fettle': text }))['craft.fettle'] ?? {
    findings: [],
    builds: [],
  };
  const [assessment] = builds[0]?.assessments ?? [];
  return {
    reported: findings.filter(({ id }) => id !== 'estimates').map(({ id, severity }) => `${severity} ${id}`),
    message: findings.find(({ id }) => id.startsWith('plug-'))?.message,
    resistance: assessment?.option.part.figure('plug_resistance'),
  };
}

describe('a declared plug', () => {
  it.each([
    ['its own type', 'Gold', 'Gold'],
    ['a built-in type that it mates', 'Bullet2', 'Shop'],
    ['the same the other way round', 'Shop', 'Bullet2'],
    ['another declared one', 'Gold', 'Twin'],
    ['the same the other way round', 'Twin', 'Gold'],
    ['a lead without a plug', 'Gold', ''],
  ])('connects to %s', async (_, pack, lead) => {
    expect((await check(pack, lead)).reported).toEqual([]);
  });

  it.each([
    ['Gold', 'Bullet2'],
    ['Shop', 'Shop'],
    ['Shop', 'Gold'],
    ['Bullet35', 'Shop'],
  ])('%s does not connect to %s', async (pack, lead) => {
    const { reported, message } = await check(pack, lead);
    expect(reported).toEqual(['error plug-mismatch']);
    expect(message).toContain(`Plugged ends in ${pack}, Tail in ${lead}: they do not connect.`);
  });

  it('is compared with the current through it for minutes, and in a burst', async () => {
    expect((await check('Gold', 'Thin')).message).toMatch(
      /^Over the flight as flown .* flow through the Thin of Tail, .* of the 2 A it is rated for continuously/,
    );
    expect((await check('Gold', 'Brief')).message).toMatch(
      /^In a burst .* flow through the Brief of Tail, .* of the 5 A it is rated for in bursts/,
    );
  });

  it('resists what it states, with its own ±; built-in types and nothing at all what is usual', async () => {
    const { resistance } = await check('Gold', '');
    expect(1e3 * (resistance?.value ?? 0)).toBeCloseTo(0.8, 9);
    expect(resistance?.standardUncertainty).toBe(0);
    expect(1e3 * ((await check('Bullet2', '')).resistance?.value ?? 0)).toBeCloseTo(1, 9);
    // Nothing is stated of the thin one's: as usual at this capacity.
    expect(1e3 * ((await check('Thin', '')).resistance?.value ?? 0)).toBeCloseTo(2, 9);
  });

  it('is found by name in another folder, and a name that is none is reported', async () => {
    const texts = {
      'shop/plugs.fettle': 'plug Far { continuous: 30 A }',
      'craft/craft.fettle': `use "../shop"\n${PARTS}\npack Plugged like Slim { plug: Far }\nlead Tail { plug: Far  mass: 3 g }\nbuild Craft { airframe: Open  motors: 4 x M with P  esc: Drive  lead: Tail  pack: Plugged }`,
    };
    const found = (await checkedIn(texts))['craft/craft.fettle']?.findings.filter(({ id }) => id !== 'estimates');
    expect(found).toEqual([]);
    expect((await check('Golb', '')).reported).toEqual(['error unknown-name']);
  });
});
