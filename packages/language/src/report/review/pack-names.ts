/** A pack option that goes by another name and has the same pack is one option, whatever its duty limit. */
import type { Build, PackOption } from '../../model/build.ts';
import { twins } from './pairing.ts';

/** The old version of a build, with its pack options called as the new version calls them. */
export function withNamesOf(after: Build, before: Build): Build {
  const names = renamed(before.packs, after.packs);
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

/** One that went and one that came, of the same packs and like no other. */
function renamed(before: readonly PackOption[], after: readonly PackOption[]): Map<string, string> {
  const gone = before.filter(({ name }) => !after.some((one) => one.name === name));
  const come = after.filter(({ name }) => !before.some((one) => one.name === name));
  return new Map(twins(gone, come, isAlike).map(([from, to]) => [from.name, to.name]));
}

const isAlike = (one: PackOption, other: PackOption): boolean =>
  one.part.name === other.part.name && one.count === other.count && one.arrangement === other.arrangement;
