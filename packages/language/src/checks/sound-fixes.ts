/** A fix that changes the craft is computed through before it is offered: its finding goes, and nothing serious comes in its place. */
import { assess } from '../analysis/assess.ts';
import { withDutyLimit } from '../analysis/decide/changed-craft.ts';
import { learnsAs } from '../analysis/learn/learn.ts';
import type { Build, PackOption } from '../model/build.ts';
import { atLeast } from '../vocabulary/severities.ts';
import { dutyCures, isSamePlace, isSilent, worseThan } from './duty-cure.ts';
import { type Finding, type Fix, type FixTrial, packsOf } from './finding.ts';
import { CHECKS } from './registry.ts';

const known = new WeakMap<Finding, readonly Fix[]>();

/** Computed when somebody looks at fixes, never while findings are made; computed once a finding. */
export function soundFixes(finding: Finding, build: Build | undefined): readonly Fix[] {
  const { fixes } = finding;
  if (!build || fixes.every(({ trial, edits }) => trial === undefined && edits.length > 0)) return fixes;
  const found = known.get(finding) ?? tried(finding, build);
  known.set(finding, found);
  return found;
}

function tried(finding: Finding, build: Build): readonly Fix[] {
  const changes = finding.fixes.filter(({ edits }) => edits.length > 0);
  const sound = changes.filter(({ trial }) => trial === undefined || isKnownSound(finding, build, trial));
  if (sound.length > 0) return sound;
  const cures = changes.length > 0 && finding.severity !== 'hint' ? dutyCures(build, finding) : [];
  return cures.length > 0 ? cures : finding.fixes.filter(({ edits }) => edits.length === 0);
}

/** A craft that cannot be computed is offered to nobody; what was found about the one that can be computed stays. */
function isKnownSound(finding: Finding, build: Build, trial: FixTrial): boolean {
  try {
    return isSound(finding, build, trial);
  } catch {
    return false;
  }
}

function isSound(finding: Finding, build: Build, trial: FixTrial): boolean {
  const check = CHECKS.find(({ id }) => id === finding.id);
  const names = 'duty' in trial ? [trial.pack] : packsOf(finding);
  const options = build.packs.filter(({ name }) => names.includes(name));
  return (
    check !== undefined &&
    options.length > 0 &&
    options.every((option) => {
      const change = changed(build, option, trial);
      if (!change) return false;
      const after = assess(change.build, change.option);
      const mayStay = atLeast(finding.severity, 'warning') ? 'information' : undefined;
      return isSilent(check, after, finding.place, mayStay) && worseThan(assess(build, option), after).length === 0;
    })
  );
}

function changed(
  build: Build,
  option: PackOption,
  trial: FixTrial,
): { readonly build: Build; readonly option: PackOption } | undefined {
  if ('duty' in trial) return { build, option: withDutyLimit(option, trial.duty) };
  if ('flight' in trial) {
    const flights = build.flights.map((flight) =>
      flight.name === trial.flight ? { ...flight, legs: [...flight.legs, trial.leg] } : flight,
    );
    const longer: Build = { ...build, flights };
    learnsAs(longer, build);
    return { build: longer, option };
  }
  const rail = assess(build, option).rails.find(({ rail: { name } }) => name === trial.rail)?.rail;
  if (!rail) return undefined;
  const loads = build.loads.map((load) =>
    load.fromPlace && isSamePlace(load.fromPlace, trial.feeds) ? { ...load, from: { rail } } : load,
  );
  return { build: { ...build, loads }, option };
}
