import { describe, expect, it } from 'vitest';
import { applied, described, place, problemsIn } from './surroundings.ts';
import { WRONG_LINES } from './wrong-lines.ts';

describe('lines that people write wrong', () => {
  it('state what is wrong and how to put it right', async () => {
    const stated: string[] = [];
    for (const wrong of WRONG_LINES) stated.push(await described(wrong));
    await expect(`${stated.join('\n\n')}\n`).toMatchFileSnapshot('wrong-lines.golden.txt');
  });

  it('are right where the problem was, once a fix is applied', async () => {
    for (const wrong of WRONG_LINES) {
      const { text } = place(wrong);
      for (const problem of await problemsIn(text)) {
        for (const fix of problem.fixes ?? []) {
          const after = await problemsIn(applied(text, fix));
          const same = after.filter(({ id, message }) => id === problem.id && message === problem.message);
          expect(same, `${wrong.line} → ${fix.title}`).toEqual([]);
        }
      }
    }
  });
});

describe('a block that is right', () => {
  it.each(['motor', 'propeller', 'pack', 'esc', 'rail', 'load', 'build', 'bench'] as const)(
    '%s: has no finding',
    async (kind) => {
      const { text } = place({ kind, line: '// nothing more' });
      expect(await problemsIn(text)).toEqual([]);
    },
  );
});
