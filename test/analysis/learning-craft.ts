/** A craft on two packs, with what was observed of it, and as it is before. */
import type { Assessment } from '../../packages/language/src/analysis/assessment.ts';
import { expanded } from '../../packages/language/src/analysis/uncertainty/estimate.ts';
import { EXAMPLE_CRAFT } from '../../packages/language/src/checks/example-craft.ts';
import { formatValue } from '../../packages/language/src/units/print.ts';
import type { ResultId } from '../../packages/language/src/vocabulary/results.ts';
import { assessedIn } from '../checks/findings-in.ts';

/** Weighed, so that what is left open is how it flies. */
export const WEIGHED = EXAMPLE_CRAFT.replace('mass: 105 g', 'mass: 105 g +- 0.1 % measured').replace(
  '  airframe: Guard196\n',
  '  airframe: Guard196\n  dry_mass: 182.2 g +- 0.1 % measured\n',
);

export const flying = (...lines: string[]): string =>
  `${WEIGHED.replace('  pack: Mast900_4S\n}', '  pack: Mast900_4S\n  pack: Mast800_5S duty 80 %\n')}${
    lines.length > 0 ? `  observed "old granary" with Mast900_4S {\n    ${lines.join('\n    ')}\n  }\n` : ''
  }}\n`;

/** The example craft, with what was seen of it in one flight. */
export const flown = (...lines: readonly string[]): string =>
  `${EXAMPLE_CRAFT.trimEnd().slice(0, -1)}  observed "granary" with Mast900_4S {\n    ${lines.join('\n    ')}\n  }\n}\n`;

export async function assessed(text: string): Promise<readonly [Assessment, Assessment]> {
  const [two, three] = (await assessedIn({ 'a.fettle': text }))['a.fettle']?.[0]?.assessments ?? [];
  if (!two || !three) throw new Error('two packs are expected');
  return [two, three];
}

export const result = ({ results }: Assessment, name: ResultId) => {
  const estimate = results.get(name)?.estimate;
  if (!estimate) throw new Error(name);
  return { value: estimate.value, plusMinus: expanded(estimate) };
};

export const relative = (assessment: Assessment, name: ResultId): number => {
  const { value, plusMinus } = result(assessment, name);
  return plusMinus / value;
};

export const [plain, plainOn3S] = await assessed(flying());
export const amperes = (assessment: Assessment, name: ResultId, factor = 1) =>
  formatValue(factor * result(assessment, name).value, 'A', 5);
