/** A pack option that goes by another name and is otherwise as before is one option. */
import type { Build, PackOption } from '../../model/build.ts';
import { twins } from './pairing.ts';

/** Whether two pack options, one that went and one that came, are one. */
type Alike = (one: PackOption, other: PackOption) => boolean;

/** The old version of a build, with its pack options called as the new version calls them. */
export function withNamesOf(after: Build, before: Build, alike: Alike = isAlike): Build {
  const names = renamed(before.packs, after.packs, alike);
  if (names.size === 0) return before;
  const toNew = <T extends { readonly pack?: string }>(one: T): T => {
    const pack = one.pack === undefined ? undefined : names.get(one.pack);
    return pack === undefined ? one : { ...one, pack };
  };
  return {
    ...before,
    packs: before.packs.map((option) => ({ ...option, name: names.get(option.name) ?? option.name })),
    rules: { ...before.rules, requirements: before.rules.requirements.map(toNew) },
    acceptances: before.acceptances.map(toNew),
    observations: before.observations.map(toNew),
  };
}

/** One that went and one that came, alike in all but the name and like no other. */
function renamed(before: readonly PackOption[], after: readonly PackOption[], alike: Alike): Map<string, string> {
  const gone = before.filter(({ name }) => !after.some((one) => one.name === name));
  const come = after.filter(({ name }) => !before.some((one) => one.name === name));
  return new Map(twins(gone, come, alike).map(([from, to]) => [from.name, to.name]));
}

/** Of the same packs, whatever the duty limit: what was required on the one is required on the other. */
export const hasSamePacks: Alike = (one, other) =>
  one.part.name === other.part.name && one.count === other.count && one.arrangement === other.arrangement;

const isAlike: Alike = (one, other) => hasSamePacks(one, other) && one.dutyLimit.value === other.dutyLimit.value;
