/** Why a result does not exist, in words. */
import { type Impossible, isImpossible } from '../../physics/craft.ts';
import { formatValue } from '../../units/print.ts';
import type { ResultId } from '../../vocabulary/results.ts';
import type { Assessment } from '../assessment.ts';
import type { CraftEvaluation, Evaluation, FlightEvaluation } from '../evaluate/evaluation.ts';
import type { Need } from '../results/reading.ts';
import type { SetupTemplate } from '../setup/craft-setup.ts';

export function reasonFor(needs: readonly Need[], evaluation: Evaluation, reasons: SetupTemplate['reasons']): string {
  for (const need of needs) {
    const reason = lacking(need, evaluation, reasons);
    if (reason !== undefined) return reason;
  }
  return 'it cannot be computed from what is stated';
}

/** Of a result that an assessment lacks. What no part states a price of has none, and that is no news anywhere else. */
export const whyMissing = (name: ResultId, { missing }: Assessment): string =>
  missing.get(name)?.reason ??
  (name === 'price' ? 'no part of the build states its price' : 'the build has nothing of that name');

function lacking(need: Need, { setup, craft }: Evaluation, reasons: SetupTemplate['reasons']): string | undefined {
  switch (need) {
    case 'dryMass':
    case 'packMass':
    case 'speedConstant':
    case 'pack':
    case 'escBurst':
      return reasons[need];
    case 'wind':
      return setup.wind ? undefined : 'the airframe states no drag area';
    case 'heat':
      return setup.heat.some((path) => path !== undefined)
        ? 'a winding would get hotter without end as flown'
        : 'no motor states a thermal_resistance';
    case 'mount':
      return setup.mount ? undefined : 'no load is on a mount with a known stiffness, sag or frequency';
    case 'balance':
      return setup.balance ? undefined : 'no part states its position (`at 12 mm`)';
    case 'frontRotors':
      return setup.balance?.frontRotors === undefined
        ? 'the airframe states no wheelbase, or has other than four arms'
        : undefined;
    case 'legs':
      return undefined;
    case 'full':
    case 'fullAtReserve':
    case 'rest':
      return craft ? impossibility(craft[need], WHERE[need]) : reasons.craft;
    default:
      return lackingInFlight(need, craft, setup.dryMass === undefined ? reasons.dryMass : reasons.packMass, reasons);
  }
}

type FlightNeed = keyof FlightEvaluation & Need;

function lackingInFlight(
  need: FlightNeed,
  craft: CraftEvaluation | undefined,
  massReason: string | undefined,
  reasons: SetupTemplate['reasons'],
): string | undefined {
  if (!craft) return reasons.craft;
  if (!craft.flight) return massReason;
  return impossibility(craft.flight[need], WHERE[need]);
}

const WHERE = {
  full: 'at full duty on a full pack',
  fullAtReserve: 'at full duty at the reserve',
  rest: 'with the motors off',
  hover: 'in hover, half way to the reserve',
  hoverAtReserve: 'in hover at the reserve',
  burst: 'in a burst on a full pack',
  burstAtReserve: 'in a burst at the reserve',
  hoverTime: 'in hover on a full pack',
  flightTime: 'in hover on a full pack',
  hoverAtLandBy: 'in hover at the charge to land by',
} as const;

/** What is short, and by how much. */
function impossibility(point: object | Impossible, where: string): string | undefined {
  if (!isImpossible(point)) return undefined;
  switch (point.impossible) {
    case 'thrust':
      return `the rotors are short of ${formatValue(point.shortfall, 'gf')} of thrust ${where}`;
    case 'power':
      return `the pack supplies ${formatValue(point.shortfall, 'W')} less than is required ${where}`;
  }
}
