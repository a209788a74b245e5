/** Limits that a part stated and states no more: what they bounded is judged no longer, which is no cure. */
import type { Finding } from '../../checks/finding.ts';
import { atLeast } from '../../checks/grade.ts';
import type { Build, Part } from '../../model/build.ts';
import type { BlockKind } from '../../vocabulary/schema.ts';
import type { FindingChange } from './findings.ts';
import type { Judgement, Relaxation } from './relaxations.ts';

/** By kind: properties that a check judges by and that nobody estimates. */
const LIMITS: Partial<Record<BlockKind, readonly string[]>> = {
  motor: ['rated', 'continuous', 'burst', 'max', 'power', 'heat_path', 'hottest', 'bolts', 'screw', 'shaft'],
  propeller: ['top_speed', 'bore'],
  esc: ['cells', 'supply', 'continuous', 'burst', 'max', 'heat_path', 'hottest', 'bolts'],
  rail: ['supply', 'continuous', 'burst', 'max', 'heat_path', 'hottest'],
  regulator: ['supply', 'continuous', 'burst', 'max', 'heat_path', 'hottest'],
  load: ['supply', 'bolts'],
  pack: ['discharge', 'burst', 'plug', 'plus'],
  lead: ['plug', 'plus'],
  airframe: ['rotors', 'wheelbase', 'guard', 'bay', 'bolts', 'motor_bolts'],
};

/** What else bounds the same. */
const STANDS_IN: Readonly<Record<string, readonly string[]>> = {
  continuous: ['max'],
  burst: ['max'],
  max: ['burst'],
  cells: ['supply'],
  supply: ['cells'],
};

/** A limit that went, and the part it was one of as the build calls it. */
export interface TakenLimit extends Relaxation {
  readonly part: string;
}

export function limitsTaken(before: Judgement, after: Judgement): TakenLimit[] {
  const now = partsOf(after.build);
  return [...partsOf(before.build)].flatMap(([name, part]) => {
    const other = now.get(name);
    // A line that has an error now is told as such.
    const isTorn = other && after.wrongLines(other.place.uri).length > before.wrongLines(part.place.uri).length;
    if (!other || isTorn) return [];
    return (LIMITS[part.kind] ?? []).flatMap((property): TakenLimit[] => {
      const place = part.placeOf(property);
      const isStated = [property, ...(STANDS_IN[property] ?? [])].some(
        (one) => other.placeOf(one) !== undefined || other.holes.has(one),
      );
      if (!place || isStated) return [];
      return [
        {
          what: 'limit',
          how: 'taken away',
          of: name,
          part: part.name,
          before: before.wordsAt(place),
          place,
          failedOn: [],
        },
      ];
    });
  });
}

/** By kind and name; a rail by its name in the build. */
function partsOf({ airframe, rotors, escs, regulators, rails, loads, leads, packs }: Build): Map<string, Part> {
  const parts = [
    ...rotors.flatMap(({ motor, propeller }) => [motor, propeller]),
    ...[airframe ?? [], escs, regulators, loads, leads, packs].flat().map(({ part }) => part),
  ];
  return new Map([
    ...parts.map((part) => [`${part.kind} ${part.name}`, part] as const),
    ...rails.filter(({ part }) => part.kind === 'rail').map(({ name, part }) => [`rail ${name}`, part] as const),
  ]);
}

/** What seemed resolved, where the limit that it was past is only gone. */
export function withUnjudged(changes: readonly FindingChange[], taken: readonly TakenLimit[]): FindingChange[] {
  return changes.map((change) =>
    change.status === 'resolved' && taken.some((limit) => isBoundedBy(change.finding, limit))
      ? { ...change, status: 'unjudged' }
      : change,
  );
}

function isBoundedBy({ message, related }: Finding, { place, part }: TakenLimit): boolean {
  const bounds = related.filter((one) => one.place.uri === place.uri);
  if (bounds.length > 0) return bounds.some((one) => place.start <= one.place.start && one.place.start < place.end);
  return message.split(/[^\w.]+/).includes(part);
}

/** Errors, or warnings, that nobody knows to be gone. */
export const isUnjudged = ({ status, finding }: FindingChange): boolean =>
  status === 'unjudged' && finding.accepted === undefined && atLeast(finding.severity, 'warning');

/** Of the old version only. */
export const isGone = ({ status }: Pick<FindingChange, 'status'>): boolean =>
  status === 'resolved' || status === 'unjudged';
