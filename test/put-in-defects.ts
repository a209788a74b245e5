/** Mistakes of ours that tests put in: of what is called so, reading, computing or checking throws. */
import { vi } from 'vitest';

vi.mock('../packages/language/src/checks/text/implausible-value.ts', async (original) => {
  const real = await original<typeof import('../packages/language/src/checks/text/implausible-value.ts')>();
  const check = real.IMPLAUSIBLE_VALUE;
  if (!('findInPart' in check)) throw new Error('it is found elsewhere now');
  const findInPart: typeof check.findInPart = (part, isWhole) => {
    if (part.name === 'Unlucky') throw new TypeError('a mistake in reading');
    return check.findInPart(part, isWhole);
  };
  return { ...real, IMPLAUSIBLE_VALUE: { ...check, findInPart } };
});
vi.mock('../packages/language/src/checks/acceptances.ts', async (original) => {
  const real = await original<typeof import('../packages/language/src/checks/acceptances.ts')>();
  const { applyAcceptances } = real;
  return {
    ...real,
    applyAcceptances: (...args: Parameters<typeof applyAcceptances>) => {
      if (args[0].name === 'UnluckyCraft') throw new TypeError('a mistake in checking');
      return applyAcceptances(...args);
    },
  };
});
vi.mock('../packages/language/src/analysis/assess.ts', async (original) => {
  const real = await original<typeof import('../packages/language/src/analysis/assess.ts')>();
  const { assess, assessPlainly } = real;
  const onLucky =
    <R>(run: (...args: Parameters<typeof assess>) => R) =>
    (...args: Parameters<typeof assess>): R => {
      if (args[1].name === 'UnluckyPack') throw new RangeError('a mistake in computing');
      return run(...args);
    };
  return { ...real, assess: onLucky(assess), assessPlainly: onLucky(assessPlainly) };
});
