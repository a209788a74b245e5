/** What was measured and is stated otherwise than before: rows of a stand, observations, logs. With them goes what they brought to light. */
import type { Bench, Build, Observation, Part } from '../../model/build.ts';
import { partNamedBy } from '../../model/named-part.ts';
import { slotsOf } from '../../model/slots.ts';
import { type PropertyName, propertyNames } from '../../vocabulary/properties.ts';
import type { BlockKind } from '../../vocabulary/schema.ts';
import { naming, withRestored } from './as-before.ts';
import type { Judgement, Loosening } from './relaxations.ts';
import { printedLimit, statedFigure, statedOf } from './stated-limits.ts';

export const measurementLoosenings = (before: Judgement, after: Judgement): Loosening[] => [
  ...observed(before.build, after),
  ...stands(before.build, after),
];

/** An observation and the build that it was made on, the one that is judged or another one that it learns from. */
interface Seen {
  readonly on: Build;
  readonly observation: Observation;
}

/** By build, title and count. */
function observationsOf(build: Build): Map<string, Seen> {
  const seen = new Map<string, Seen>();
  for (const on of [build, ...build.kin().map((kin) => kin.build)]) {
    for (const observation of on.observations) {
      const name = JSON.stringify([on === build ? '' : on.name, observation.title]);
      let key = name;
      for (let count = 2; seen.has(key); count++) key = `${name} ${count}`;
      seen.set(key, { on, observation });
    }
  }
  return seen;
}

function observed(before: Build, { build, wordsAt }: Judgement): Loosening[] {
  const [old, now] = [observationsOf(before), observationsOf(build)];
  return [...new Set([...old.keys(), ...now.keys()])].flatMap((key): Loosening[] => {
    const [was, is] = [old.get(key), now.get(key)];
    if (was && is && contentOf(was) === contentOf(is, was)) return [];
    const seen = is ?? was;
    if (!seen) return [];
    const { on, observation } = seen;
    const words = is ? wordsAt(is.observation.place) : `"${observation.title}"`;
    return [
      {
        reported: {
          what: 'measurement',
          how: was && is ? 'rewritten' : is ? 'added' : 'taken away',
          of: `build ${on.name}`,
          [is ? 'after' : 'before']: words,
          place: observation.place,
          failedOn: [],
        },
        // Of another build it may only have ceased to count for this one.
        isAlways: was !== undefined && (is !== undefined || was.on === before),
        restore: (one) => withObservations(one, was, is),
      },
    ];
  });
}

/** @param was the observation before: a pack that was renamed since is the same one */
const contentOf = ({ on, observation: { part, pack, flown, log } }: Seen, was?: Seen): string =>
  JSON.stringify([
    was && isRenamedPack(was, on, pack) ? was.observation.pack : pack,
    log?.content,
    flown.map(({ share, hoverMultiple }) => [statedFigure(share), statedFigure(hoverMultiple)]),
    propertiesOf(part).map((property) => [
      statedOf(part, property),
      printedLimit(part.firstNumber(property)?.standardUncertainty ?? 0),
    ]),
  ]);

function isRenamedPack({ on, observation }: Seen, now: Build, name: string | undefined): boolean {
  const [old, option] = [on, now].map(({ packs }, i) =>
    packs.find((one) => one.name === (i === 0 ? observation.pack : name)),
  );
  if (!old || !option || now.packs.some((one) => one.name === old.name)) return false;
  const isFlownAlike = (['count', 'arrangement'] as const).every((word) => old[word] === option[word]);
  return isFlownAlike && old.dutyLimit.value === option.dutyLimit.value && isSameOrRenamed(old.part, option.part);
}

const propertiesOf = <Kind extends BlockKind>({ kind }: Part<Kind>): readonly PropertyName<Kind>[] =>
  propertyNames(kind);

function withObservations(build: Build, was: Seen | undefined, is: Seen | undefined): Build {
  const back = (on: Build): Build => {
    const kept = on.observations.flatMap((one) => {
      if (one.id !== is?.observation.id) return [one];
      return was ? [asItWas(one, was.observation)] : [];
    });
    const isHome = was && !is && (was.on.name === on.name || (on === build && was.on.uri === build.uri));
    return { ...on, observations: isHome ? [...kept, was.observation] : kept };
  };
  const kin = build.kin();
  const isKnown = !was || is || was.on.name === build.name || kin.some((one) => one.build.name === was.on.name);
  return {
    ...back(build),
    kin: () => [
      ...kin.map((one) => ({ ...one, build: back(one.build) })),
      ...(isKnown || !was ? [] : [{ build: was.on, isBase: false }]),
    ],
  };
}

/** At its place in the new version. */
function asItWas(now: Observation, before: Observation): Observation {
  const { pack: _pack, log: _log, ...rest } = now;
  const part = propertiesOf(now.part).reduce<Part<'observed'>>(
    (so, property) => withRestored(so, property, before.part),
    now.part,
  );
  return {
    ...rest,
    part,
    flown: before.flown,
    ...(before.pack !== undefined && { pack: before.pack }),
    ...(before.log && { log: { ...before.log, place: now.log?.place ?? now.place } }),
  };
}

function stands(before: Build, { build }: Judgement): Loosening[] {
  const [old, now] = [benchesByName(before), benchesByName(build)];
  return [...new Set([...old.keys(), ...now.keys()])].flatMap((name): Loosening[] => {
    const [was, is] = [old.get(name), now.get(name)];
    const bench = is ?? was;
    if (!bench) return [];
    if (was && is && rowsOf(was) === rowsOf(is) && isSameStand(was.part, is.part)) return [];
    return [
      {
        reported: {
          what: 'measurement',
          how: was && is ? 'rewritten' : is ? 'added' : 'taken away',
          [is ? 'after' : 'before']: `bench ${name}`,
          place: bench.part.place,
          failedOn: [],
        },
        isAlways: was !== undefined,
        restore: (one) => ({
          ...one,
          benches: [
            ...one.benches.flatMap((other) => {
              if (other.part.name !== name) return [other];
              return was ? [{ ...was, part: other.part, rowPlaces: was.rows.map(() => other.place) }] : [];
            }),
            ...(was && !is ? [{ ...was, part: naming(was.part, sameParts(was.part, one)) }] : []),
          ],
        }),
      },
    ];
  });
}

const benchesByName = ({ benches }: Build): Map<string, Bench> => new Map(benches.map((one) => [one.part.name, one]));

const rowsOf = ({ columns, rows, part }: Bench): string =>
  JSON.stringify([
    columns.map(({ name }) => name),
    rows.map((row) => row.map((cell) => (cell === undefined ? '-' : printedLimit(cell)))),
    propertiesOf(part).map((property) => (partNamedBy(part, property) ? '' : statedOf(part, property))),
  ]);

/** Parts of the same names, or renamed ones. */
const isSameStand = (was: Part, is: Part): boolean =>
  propertiesOf(is).every((property) => isSameOrRenamed(partNamedBy(was, property), partNamedBy(is, property)));

/** Of another name, it states the same throughout. */
function isSameOrRenamed(was: Part | undefined, is: Part | undefined): boolean {
  if (!was || !is) return was === is;
  return (
    was.name === is.name || propertiesOf(is).every((property) => statedOf(was, property) === statedOf(is, property))
  );
}

/** What was on it, as the new version declares it. */
function sameParts(stand: Part, build: Build): Map<PropertyName, Part> {
  const all = slotsOf(build).map(({ part }) => part);
  return new Map(
    (['motor', 'propeller', 'esc', 'airframe'] as const).flatMap((word) => {
      const named = stand.part(word);
      const same = named && all.find(({ kind, name }) => kind === named.kind && name === named.name);
      return same ? [[word, same] as const] : [];
    }),
  );
}
