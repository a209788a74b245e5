import { describe, expect, it } from 'vitest';
import { modelOf } from './read.ts';

const problemsIn = async (text: string) => (await modelOf(text)).problems.map(({ message }) => message);

const REST = `propeller P { diameter: 51 mm  blades: 3 }
esc E { continuous: 16 A }
pack Slim { cells: 2S  capacity: 480 mAh }
`;

describe('what is missing', () => {
  it('is reported once per part, with all of it', async () => {
    expect(await problemsIn('motor M {\n  rated: 2S\n}')).toEqual([
      'M still needs kv and stator (or resistance or mass)',
    ]);
  });

  it('is not reported for a part that others are like and nobody uses', async () => {
    const base = 'motor Base {\n  mass: 3.4 g\n}\nmotor M like Base {\n  kv: 11000 rpm/V\n}\n';
    expect(await problemsIn(base)).toEqual([]);
    const used = `${base}${REST}build B {\n  dry_mass: 80 g\n  motors: 4 x Base with P\n  esc: E\n  pack: Slim\n}`;
    expect(await problemsIn(used)).toEqual(['Base still needs kv']);
  });

  it('of a part of the library is reported where it is used', async () => {
    const build = `${REST}build B {\n  dry_mass: 80 g\n  motors: 4 x Stator1103 with P\n  esc: E\n  pack: Slim\n}`;
    expect(await problemsIn(build)).toEqual(['Stator1103 still needs kv: write a motor that is like Stator1103']);
  });

  it('of a build counts what is inherited, and what is taken away', async () => {
    const base = `${REST}motor M { kv: 11000 rpm/V  mass: 3 g }
build B {\n  dry_mass: 80 g\n  motors: 4 x M with P\n  esc: E\n  pack: Slim\n}\n`;
    expect(await problemsIn(`${base}build C like B {\n}`)).toEqual([]);
    expect(await problemsIn(`${base}build C like B {\n  without: Slim\n}`)).toEqual(['C still needs pack']);
    expect(await problemsIn(`${base}build C like B {\n  esc: none\n}`)).toEqual(['C still needs esc']);
    // What is inherited goes, and a new one comes, whichever line is first.
    expect(await problemsIn(`${base}build C like B {\n  esc: none\n  esc: E\n}`)).toEqual([]);
    expect(await problemsIn(`${base}build C like B {\n  esc: E\n  esc: none\n}`)).toEqual([]);
  });

  it('is not reported where a line may have been lost', async () => {
    expect(await problemsIn('motor M {\n  kv 11000 rpm/V\n  mass: 3 g\n}')).toEqual(['a colon is missing: kv: …']);
    expect(await problemsIn('motor M {\n  mass: 3 g\n')).toEqual(['a closing } is missing for motor M opened here']);
  });
});
