/** Every check there is. A new check is a file beside this one and a line here. */
import { STALE_ACCEPTANCE_PAGE } from './acceptances.ts';
import { boardMismatch } from './board-mismatch.ts';
import { boltMismatch } from './bolt-mismatch.ts';
import { cannotHover } from './cannot-hover.ts';
import type { Check, Page } from './check.ts';
import { claimsDisagree } from './claims-disagree.ts';
import { escOvercurrent } from './esc-overcurrent.ts';
import { escOvervoltage } from './esc-overvoltage.ts';
import { escUndervoltage } from './esc-undervoltage.ts';
import { estimateGivesWay } from './estimate-gives-way.ts';
import { ESTIMATES_PAGE } from './estimates.ts';
import { highHoverDuty } from './high-hover-duty.ts';
import { leadDrop } from './lead-drop.ts';
import { leadOvercurrent } from './lead-overcurrent.ts';
import { lowThrust } from './low-thrust.ts';
import { massUnexplained } from './mass-unexplained.ts';
import { motorOvercurrent } from './motor-overcurrent.ts';
import { motorOverheat } from './motor-overheat.ts';
import { motorOverpower } from './motor-overpower.ts';
import { motorOverspeed } from './motor-overspeed.ts';
import { motorOvervoltage } from './motor-overvoltage.ts';
import { mountResonance } from './mount-resonance.ts';
import { observedDisagrees } from './observed-disagrees.ts';
import { overweight } from './overweight.ts';
import { packHeavy } from './pack-heavy.ts';
import { packOvercurrent } from './pack-overcurrent.ts';
import { packOversag } from './pack-oversag.ts';
import { packTooLarge } from './pack-too-large.ts';
import { plugMismatch } from './plug-mismatch.ts';
import { plugOvercurrent } from './plug-overcurrent.ts';
import { propellerClose } from './propeller-close.ts';
import { propellerTooLarge } from './propeller-too-large.ts';
import { pwmLow } from './pwm-low.ts';
import { railOvercurrent } from './rail-overcurrent.ts';
import { railOvervoltage } from './rail-overvoltage.ts';
import { railUndervoltage } from './rail-undervoltage.ts';
import { regulatorDropout } from './regulator-dropout.ts';
import { regulatorOverheat } from './regulator-overheat.ts';
import { regulatorOvervoltage } from './regulator-overvoltage.ts';
import { regulatorUndervoltage } from './regulator-undervoltage.ts';
import { requirementFails } from './requirement-fails.ts';
import { requirementUnsure } from './requirement-unsure.ts';
import { rotorCount } from './rotor-count.ts';
import { screwTooLong } from './screw-too-long.ts';
import { shaftMismatch } from './shaft-mismatch.ts';
import { shortFlight } from './short-flight.ts';
import { clause } from './text/clause.ts';
import { duplicate } from './text/duplicate.ts';
import { formerName } from './text/former-name.ts';
import { implausibleValue } from './text/implausible-value.ts';
import { likeCycle } from './text/like-cycle.ts';
import { missingUnit } from './text/missing-unit.ts';
import { missingValue } from './text/missing-value.ts';
import { newerVersion } from './text/newer-version.ts';
import { numberForm } from './text/number-form.ts';
import { oneALine } from './text/one-a-line.ts';
import { syntax } from './text/syntax.ts';
import type { TextCheck } from './text/text-check.ts';
import { unknownName } from './text/unknown-name.ts';
import { unknownUnit } from './text/unknown-unit.ts';
import { unusedUse } from './text/unused-use.ts';
import { useMissing } from './text/use-missing.ts';
import { wrongDimension } from './text/wrong-dimension.ts';
import { wrongKind } from './text/wrong-kind.ts';
import { weakInWind } from './weak-in-wind.ts';

export const CHECKS: readonly Check[] = [
  motorOvervoltage,
  motorOvercurrent,
  motorOverpower,
  motorOverspeed,
  motorOverheat,
  escOvervoltage,
  escUndervoltage,
  escOvercurrent,
  packOvercurrent,
  packOversag,
  packHeavy,
  leadOvercurrent,
  leadDrop,
  plugOvercurrent,
  pwmLow,
  regulatorUndervoltage,
  railUndervoltage,
  railOvervoltage,
  railOvercurrent,
  regulatorOvervoltage,
  regulatorOverheat,
  regulatorDropout,
  cannotHover,
  lowThrust,
  highHoverDuty,
  overweight,
  shortFlight,
  weakInWind,
  requirementFails,
  requirementUnsure,
  propellerTooLarge,
  propellerClose,
  boltMismatch,
  boardMismatch,
  shaftMismatch,
  screwTooLong,
  plugMismatch,
  packTooLarge,
  rotorCount,
  mountResonance,
  claimsDisagree,
  massUnexplained,
  observedDisagrees,
  estimateGivesWay,
];

export const TEXT_CHECKS: Readonly<Record<TextCheck['id'], TextCheck>> = {
  syntax,
  'unknown-name': unknownName,
  'wrong-kind': wrongKind,
  'wrong-dimension': wrongDimension,
  'missing-unit': missingUnit,
  'unknown-unit': unknownUnit,
  'number-form': numberForm,
  'implausible-value': implausibleValue,
  'missing-value': missingValue,
  duplicate,
  'one-a-line': oneALine,
  'former-name': formerName,
  clause,
  'like-cycle': likeCycle,
  'use-missing': useMissing,
  'unused-use': unusedUse,
  'newer-version': newerVersion,
};

/** The reference page of every finding there can be. */
export const PAGES: Readonly<Record<string, Page>> = Object.fromEntries([
  ...CHECKS.map(({ id, page }) => [id, page]),
  ['estimates', ESTIMATES_PAGE],
  ...Object.values(TEXT_CHECKS).map(({ id, page }) => [id, page]),
  ['stale-acceptance', STALE_ACCEPTANCE_PAGE],
]);
