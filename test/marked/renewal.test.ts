/** A case that does not hold is written anew where it states what is not so, and nowhere else; what no file could state fails. */
import { afterAll, expect, it } from 'vitest';
import { readCase } from './marks.ts';
import { CaseServers } from './play-case.ts';

const servers = new CaseServers();
afterAll(() => servers.stop());

const play = (source: string, isJudged = true) => servers.play(readCase(source), { isJudged });

it('writes messages, places, severities and marks that were forgotten, in every file; takes out those of what is not found', async () => {
  const { text, failures } = await play(`// Two of them.
motor Odd like M1805 { kv: 2000 }
//                         ^^^^ warning missing-unit
motor Even like M1805 { kv: 2100 rpm/V }
//                          ^^^^ error missing-unit: no such thing
pack Slim like Mast900_4S { capacity: 480 mah }
//                                    ^^^^^^^ error unknown-unit
//                                        ^^^ fix Change to mAh
--- after Change to mAh
pack Slim
--- file other.fettle
item Strap { mass: 4 }
//                 ^ error missing-unit: mass needs a unit
item Tape { mass: 5 }
`);
  expect(failures).toEqual([]);
  expect(text).toMatchInlineSnapshot(`
    "// Two of them.
    motor Odd like M1805 { kv: 2000 }
    //                         ^^^^ error missing-unit = a unit is needed: 2000 rpm/V?
    motor Even like M1805 { kv: 2100 rpm/V }
    pack Slim like Mast900_4S { capacity: 480 mah }
    //                                        ^^^ error unknown-unit = no such unit: mah; did you mean mAh?
    //                                        ^^^ fix Change to mAh
    --- after Change to mAh
    // Two of them.
    motor Odd like M1805 { kv: 2000 }
    motor Even like M1805 { kv: 2100 rpm/V }
    pack Slim like Mast900_4S { capacity: 480 mAh }
    --- file other.fettle
    item Strap { mass: 4 }
    //   ^^^^^ error duplicate = there is an item Strap in this folder already
    //                 ^ error missing-unit = a unit is needed: 4 g?
    item Tape { mass: 5 }
    //                ^ error missing-unit = a unit is needed: 5 g?
    "
  `);
});

it('writes offers, reasons, all of a hover, and edits of files that have no section yet, or one in vain', async () => {
  const { text, failures } = await play(`motor Odd like M1805 { kv: 2000 rpm/V }
//    ^^^ refuses 9x: it is too long
//    ^^^ rename Even
//                     ^^ hover = kv
--- after Even in other.fettle
motor Odd
--- after Even in nothing.fettle
item Strap
--- file other.fettle
motor Twin like Odd { kv: 2000 rpm/V }
`);
  expect(failures).toEqual([]);
  expect(text).toMatchInlineSnapshot(`
    "motor Odd like M1805 { kv: 2000 rpm/V }
    //    ^^^ refuses 9x: "9x" cannot be a name: letters, digits and _, a letter first, and no word of the language
    //    ^^^ rename Even
    //                     ^^ hover = kv
    --- after Even in other.fettle
    motor Twin like Even { kv: 2000 rpm/V }
    --- file other.fettle
    motor Twin like Odd { kv: 2000 rpm/V }
    --- after Even
    motor Even like M1805 { kv: 2000 rpm/V }
    --- hover kv
    **kv**

    Unloaded speed per volt, as printed on the bell.

    A rotational speed per volt (rpm/V), plausible from 100 to 40000 rpm/V.

    Here 2000 ± 60 rpm/V, stated.
    "
  `);
  expect((await play(text)).text).toBe(text);
});

it('writes the offers of a text that is half written', async () => {
  const { text, failures } = await play(
    'pack Slim like Mast900_4S { capacity: 900 m }\n//                                          ^ offers first mA',
    false,
  );
  expect(failures).toEqual([]);
  expect(text).toMatchInlineSnapshot(`
    "pack Slim like Mast900_4S { capacity: 900 m }
    //                                          ^ offers first +-"
  `);
});

it('fails where a mark is about what is not there, and where a case has no mark', async () => {
  const about = (mark: string) => play(`motor Odd like M1805 { kv: 2000 rpm/V }\n${mark}`);
  expect(await about('')).toMatchObject({ failures: ['a case without a mark'], holds: false });
  expect(await about('//                     ^^ hover a pitch')).toMatchInlineSnapshot(`
    {
      "failures": [
        "case.fettle 1:24-26 hover a pitch: shown is
    **kv**

    Unloaded speed per volt, as printed on the bell.

    A rotational speed per volt (rpm/V), plausible from 100 to 40000 rpm/V.

    Here 2000 ± 60 rpm/V, stated.",
      ],
      "holds": false,
      "text": "motor Odd like M1805 { kv: 2000 rpm/V }
    //                     ^^ hover a pitch",
    }
  `);
  expect(await about('//                     ^^ fix Change to kV')).toMatchInlineSnapshot(`
    {
      "failures": [
        "case.fettle 1:24-26 fix Change to kV: offered is nothing",
      ],
      "holds": false,
      "text": "motor Odd like M1805 { kv: 2000 rpm/V }
    //                     ^^ fix Change to kV",
    }
  `);
  expect(await about('//                     ^^ shines')).toMatchInlineSnapshot(`
    {
      "failures": [
        "case.fettle 1:24-26 shines : nothing checks such a mark here",
      ],
      "holds": false,
      "text": "motor Odd like M1805 { kv: 2000 rpm/V }
    //                     ^^ shines",
    }
  `);
});
