/** Unfinished merges: one error each, at its first mark; what is not torn is read as ever. */
import { describe, expect, it } from 'vitest';
import { withoutConflicts } from '../../packages/language/src/grammar/conflicts.ts';
import { findingsIn } from '../checks/findings-in.ts';

const TORN = `item Strap { mass: 3 g }
<<<<<<< HEAD
item Tape { mass: 2 g }
=======
item Tape { mass: 4 mm }
>>>>>>> the-other
item Glue { mass: 1 mm }
`;

const printed = async (text: string): Promise<string[]> => {
  const { 'a.fettle': found } = await findingsIn({ 'a.fettle': text });
  return (found ?? []).map(({ id, place, message }) => `${text.slice(place.start, place.end)} ${id}: ${message}`);
};
const MERGE =
  '<<<<<<< syntax: an unfinished merge: keep one side, and delete its three marks; until then the upper side is read';
const GLUE = 'mm wrong-dimension: expected a mass (g, kg, oz), found a length';

describe('an unfinished merge', () => {
  it('is one error; the upper side and the rest are read, at their places', async () => {
    expect(await printed(TORN)).toEqual([MERGE, GLUE]);
    expect(await printed(TORN.replaceAll('\n', '\r\n'))).toEqual([MERGE, GLUE]);
    expect(await printed(TORN.replace('=======\n', '||||||| base\nitem Tape { mass: 9 s }\n=======\n'))).toEqual([
      MERGE,
      GLUE,
    ]);
    expect(
      await printed(TORN + TORN.replaceAll('Strap', 'Strap2').replaceAll('Tape', 'Tape2').replaceAll('Glue', 'Glue2')),
    ).toEqual([MERGE, GLUE, MERGE, GLUE]);
  });

  it('keeps every character where it was', () => {
    const { text, conflicts } = withoutConflicts(TORN);
    expect(text).toHaveLength(TORN.length);
    expect(text.split('\n').map((line) => line.length)).toEqual(TORN.split('\n').map((line) => line.length));
    expect(text).not.toMatch(/[<=>]{7}|4 mm/);
    expect(conflicts).toEqual([{ offset: TORN.indexOf('<<<<'), line: 2 }]);
  });

  it.each([
    '<<<<<<< HEAD\nitem A { mass: 3 g }\n',
    '<<<<<<< HEAD\nitem A { mass: 3 g }\n>>>>>>> x\n',
    'item A { mass: 3 g }\n=======\n>>>>>>> x\n',
    '// <<<<<<< HEAD\n// =======\n// >>>>>>> x\n',
    'note "<<<<<<< HEAD"\n=======\n>>>>>>> x\n',
  ])('marks that make none are left to the parser: %j', (text) => {
    expect(withoutConflicts(text)).toEqual({ text, conflicts: [] });
  });
});
