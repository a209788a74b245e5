/** Ratings of parts that are compared with what flows. */
import type { PropertyName } from './properties.ts';
import type { BlockKind } from './schema.ts';

/** What each sort of part is rated for, and with what that is compared. */
const RATED = {
  motor: {
    continuous: 'Continuous current of a motor, against the average as flown.',
    burst: 'Burst current of a motor, against full duty.',
    power: 'Burst power of a motor, against full duty.',
  },
  esc: {
    continuous: 'Continuous current of a channel, against the average as flown.',
    burst: 'Burst current of a channel, against full duty.',
  },
  pack: {
    discharge: 'Continuous rate of the pack, against the average as flown.',
    burst: 'Burst rate of the pack, against full duty.',
  },
  rail: {
    continuous: 'Continuous current of each rail, against hover.',
    burst: 'Burst current of each rail, against the most its loads draw.',
  },
} as const satisfies { readonly [Kind in BlockKind]?: Readonly<Partial<Record<PropertyName<Kind>, string>>> };

type Rated = typeof RATED;

/** A rating of a sort of part: what `keep 20 % in reserve on …` may name. */
export type KeptLimit = {
  [Sort in keyof Rated]: { readonly of: Sort; readonly rating: keyof Rated[Sort] };
}[keyof Rated];

/** Which rating, and of what. */
export type RatingKey =
  | Exclude<KeptLimit, { readonly of: 'rail' }>
  /** `rail`: as its build names it, `Top.video`. */
  | (Extract<KeptLimit, { readonly of: 'rail' }> & { readonly rail: string });

export type RatingName = RatingKey['rating'];

const ALL = Object.entries(RATED).flatMap(([of, ratings]) =>
  Object.entries(ratings).map(([rating, description]) => ({ limit: { of, rating } as KeptLimit, description })),
);

/** `motor.burst`: as `keep` names it. All rails have one name. */
export const nameOfLimit = ({ of, rating }: KeptLimit): string => `${of}.${rating}`;

const BY_NAME: ReadonlyMap<string, KeptLimit> = new Map(ALL.map(({ limit }) => [nameOfLimit(limit), limit]));

export const limitNamed = (name: string): KeptLimit | undefined => BY_NAME.get(name);

/** What each of them is, by name. */
export const LIMITS: Readonly<Record<string, string>> = Object.fromEntries(
  ALL.map(({ limit, description }) => [nameOfLimit(limit), description]),
);

/** `motor.burst`, `rail.video.continuous` */
export const nameOfRating = (key: RatingKey): string =>
  key.of === 'rail' ? `rail.${key.rail}.${key.rating}` : nameOfLimit(key);
