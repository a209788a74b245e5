// Written by "npm run generate" from the names in the vocabulary: a name without its file does not compile.
import type { CraftCheckId } from '../../vocabulary/findings.ts';
import type { Check } from '../check.ts';
import { boardMismatch } from '../craft/board-mismatch.ts';
import { boltMismatch } from '../craft/bolt-mismatch.ts';
import { cannotHover } from '../craft/cannot-hover.ts';
import { claimsDisagree } from '../craft/claims-disagree.ts';
import { escOvercurrent } from '../craft/esc-overcurrent.ts';
import { escOvervoltage } from '../craft/esc-overvoltage.ts';
import { escUndervoltage } from '../craft/esc-undervoltage.ts';
import { estimateGivesWay } from '../craft/estimate-gives-way.ts';
import { flightEndsAloft } from '../craft/flight-ends-aloft.ts';
import { flightTooLong } from '../craft/flight-too-long.ts';
import { highHoverDuty } from '../craft/high-hover-duty.ts';
import { leadDrop } from '../craft/lead-drop.ts';
import { leadOvercurrent } from '../craft/lead-overcurrent.ts';
import { legUnflyable } from '../craft/leg-unflyable.ts';
import { lowThrust } from '../craft/low-thrust.ts';
import { massUnexplained } from '../craft/mass-unexplained.ts';
import { measurementSetAside } from '../craft/measurement-set-aside.ts';
import { motorOvercurrent } from '../craft/motor-overcurrent.ts';
import { motorOverheat } from '../craft/motor-overheat.ts';
import { motorOverpower } from '../craft/motor-overpower.ts';
import { motorOverspeed } from '../craft/motor-overspeed.ts';
import { motorOvervoltage } from '../craft/motor-overvoltage.ts';
import { mountResonance } from '../craft/mount-resonance.ts';
import { observedDisagrees } from '../craft/observed-disagrees.ts';
import { overweight } from '../craft/overweight.ts';
import { packAged } from '../craft/pack-aged.ts';
import { packHeavy } from '../craft/pack-heavy.ts';
import { packOvercurrent } from '../craft/pack-overcurrent.ts';
import { packOversag } from '../craft/pack-oversag.ts';
import { packTooLarge } from '../craft/pack-too-large.ts';
import { plugMismatch } from '../craft/plug-mismatch.ts';
import { plugOvercurrent } from '../craft/plug-overcurrent.ts';
import { propellerClose } from '../craft/propeller-close.ts';
import { propellerTooLarge } from '../craft/propeller-too-large.ts';
import { pwmLow } from '../craft/pwm-low.ts';
import { railOvercurrent } from '../craft/rail-overcurrent.ts';
import { railOvervoltage } from '../craft/rail-overvoltage.ts';
import { railUndervoltage } from '../craft/rail-undervoltage.ts';
import { regulatorDropout } from '../craft/regulator-dropout.ts';
import { regulatorOverheat } from '../craft/regulator-overheat.ts';
import { regulatorOvervoltage } from '../craft/regulator-overvoltage.ts';
import { regulatorUndervoltage } from '../craft/regulator-undervoltage.ts';
import { requirementFails } from '../craft/requirement-fails.ts';
import { requirementUnsure } from '../craft/requirement-unsure.ts';
import { rotorCount } from '../craft/rotor-count.ts';
import { screwTooLong } from '../craft/screw-too-long.ts';
import { shaftMismatch } from '../craft/shaft-mismatch.ts';
import { shortFlight } from '../craft/short-flight.ts';
import { weakInWind } from '../craft/weak-in-wind.ts';

export const CRAFT_CHECKS: Readonly<Record<CraftCheckId, Check>> = {
  'motor-overvoltage': motorOvervoltage,
  'motor-overcurrent': motorOvercurrent,
  'motor-overpower': motorOverpower,
  'motor-overspeed': motorOverspeed,
  'motor-overheat': motorOverheat,
  'esc-overvoltage': escOvervoltage,
  'esc-undervoltage': escUndervoltage,
  'esc-overcurrent': escOvercurrent,
  'pack-overcurrent': packOvercurrent,
  'pack-oversag': packOversag,
  'pack-heavy': packHeavy,
  'pack-too-large': packTooLarge,
  'lead-overcurrent': leadOvercurrent,
  'lead-drop': leadDrop,
  'plug-overcurrent': plugOvercurrent,
  'plug-mismatch': plugMismatch,
  'rail-undervoltage': railUndervoltage,
  'rail-overvoltage': railOvervoltage,
  'rail-overcurrent': railOvercurrent,
  'regulator-overvoltage': regulatorOvervoltage,
  'regulator-undervoltage': regulatorUndervoltage,
  'regulator-overheat': regulatorOverheat,
  'regulator-dropout': regulatorDropout,
  overweight,
  'mass-unexplained': massUnexplained,
  'low-thrust': lowThrust,
  'high-hover-duty': highHoverDuty,
  'cannot-hover': cannotHover,
  'short-flight': shortFlight,
  'flight-too-long': flightTooLong,
  'leg-unflyable': legUnflyable,
  'flight-ends-aloft': flightEndsAloft,
  'weak-in-wind': weakInWind,
  'propeller-too-large': propellerTooLarge,
  'propeller-close': propellerClose,
  'bolt-mismatch': boltMismatch,
  'shaft-mismatch': shaftMismatch,
  'screw-too-long': screwTooLong,
  'board-mismatch': boardMismatch,
  'rotor-count': rotorCount,
  'claims-disagree': claimsDisagree,
  'observed-disagrees': observedDisagrees,
  'measurement-set-aside': measurementSetAside,
  'estimate-gives-way': estimateGivesWay,
  'pack-aged': packAged,
  'pwm-low': pwmLow,
  'mount-resonance': mountResonance,
  'requirement-fails': requirementFails,
  'requirement-unsure': requirementUnsure,
};
