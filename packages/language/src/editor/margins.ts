/** How near parts are to their ratings; kept for each file, so that a hover need not compute all builds of a part again. */
import { expanded } from '../analysis/uncertainty/estimate.ts';
import type { CheckedBuild } from '../checks/run.ts';
import { limitsOf } from '../checks/shared/ratings.ts';
import type { Place } from '../syntax/place.ts';
import type { RatingKey } from '../vocabulary/limits.ts';

export interface PartMargin {
  /** The part's name where it is declared. */
  readonly part: Place;
  /** As the build names the part. */
  readonly name: string;
  readonly limit: RatingKey;
  readonly allowed: number;
  readonly value: number;
  /** k = 2. */
  readonly plusMinus: number;
  readonly unit: string;
  readonly build: string;
  readonly pack: string;
}

/** For each part with limits where it comes nearest to one. */
export function marginsOf(builds: readonly CheckedBuild[]): PartMargin[] {
  const margins = builds.flatMap(({ build, assessments }) =>
    assessments.flatMap((assessment) =>
      limitsOf(assessment).map(
        ({ key, part, unit, limit, value }): PartMargin => ({
          part: part.place,
          name: part.name,
          unit,
          limit: key,
          allowed: limit,
          value: value.value,
          plusMinus: expanded(value),
          build: build.name,
          pack: assessment.option.name,
        }),
      ),
    ),
  );
  const worst = new Map<string, PartMargin>();
  for (const margin of margins) {
    const key = `${margin.part.uri} ${margin.part.start}`;
    const known = worst.get(key);
    if (known === undefined || shareOf(margin) > shareOf(known)) worst.set(key, margin);
  }
  return [...worst.values()];
}

/** Above 1 the part is over its limit. */
export function shareOf({ value, allowed }: PartMargin): number {
  return value / allowed;
}
