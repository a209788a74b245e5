/** Lines that are left out of the fit, and where all the others put them. */
import { templateOf } from '../../packages/language/src/analysis/assess.ts';
import { fitOf } from '../../packages/language/src/analysis/learn/fit.ts';
import { measuredOf } from '../../packages/language/src/analysis/learn/learn.ts';
import { narrowedContributions } from '../../packages/language/src/analysis/learn/narrowing.ts';
import type { MeasuredLine } from '../../packages/language/src/analysis/learn/scene.ts';
import { judgedIn } from '../checks/findings-in.ts';

export interface HeldBack {
  readonly reading: string;
  /** Read over predicted, as a logarithm. */
  readonly error: number;
  /** Of the prediction and the reading, one standard deviation. */
  readonly deviation: number;
  /** The error in those. */
  readonly far: number;
}

/** An error so large that the line has no weight. */
const NO_WEIGHT = 1e9;

/** Lines that `isHeld` have no weight; plain ones (a duty) are left out of the answer. */
export async function heldBack(text: string, isHeld: (line: MeasuredLine) => boolean): Promise<HeldBack[]> {
  const build = (await judgedIn({ 'a.fettle': text }, ({ builds }) => builds[0]))['a.fettle'];
  if (!build) throw new Error('no build');
  const scenes = measuredOf(build, templateOf).scenes;
  const learnt = fitOf(
    scenes.map((scene) => ({
      ...scene,
      lines: scene.lines.map((line) => (isHeld(line) ? { ...line, error: NO_WEIGHT } : line)),
    })),
  );
  if (!learnt) throw new Error('nothing was learnt');
  return scenes.flatMap((scene) => {
    const figures = [...new Map([...learnt.figures, ...scene.inputs()].map((one) => [one.id, one])).values()];
    const narrow = narrowedContributions(learnt, figures);
    const predictions = scene.linearise(learnt.deviations, true);
    return scene.lines.flatMap((line, i): HeldBack[] => {
      const { value, slopes } = predictions[i] ?? {};
      if (!isHeld(line) || line.isPlain || value === undefined || !slopes) return [];
      const spread = Math.hypot(...narrow(Float64Array.from(figures, ({ id }) => slopes.get(id) ?? 0)));
      const error = Math.log(line.value / value);
      const deviation = Math.hypot(spread, line.error);
      return [{ reading: line.reading, error, deviation, far: error / deviation }];
    });
  });
}
