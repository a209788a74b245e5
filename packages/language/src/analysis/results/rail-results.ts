/** The results of each rail, by the name behind `rail.<name>.`. */
import { supplyVoltage } from '../../physics/rails.ts';
import type { RailResultName } from '../../vocabulary/results.ts';
import type { Assessment } from '../assessment.ts';
import { railExplanation } from '../explain/derivation-rails.ts';
import type { Explanation } from '../explain/explanation.ts';
import { inBurst, inFlight, type Measure } from './reading.ts';

interface RailResult {
  /** @param rail its place among the build's */
  readonly measure: (rail: number) => Measure;
  readonly explain: (rail: string, assessment: Assessment) => Explanation | undefined;
}

export const RAIL_COMPUTATIONS: Readonly<Record<RailResultName, RailResult>> = {
  voltage: {
    measure: (rail) => ({
      needs: ['hoverAtReserve'],
      of: inFlight('hoverAtReserve', ({ point, craft }) => supplyVoltage(craft.rails, rail, point.busVoltage)),
    }),
    explain: (rail, assessment) => railExplanation(rail, 'voltage', assessment),
  },
  burst_voltage: {
    measure: (rail) => ({
      needs: ['burstAtReserve'],
      of: inBurst('burstAtReserve', ({ craft, busVoltage }) => supplyVoltage(craft.rails, rail, busVoltage)),
    }),
    explain: (rail, assessment) => railExplanation(rail, 'burst_voltage', assessment),
  },
  current: {
    measure: (rail) => ({
      needs: ['hoverAtReserve'],
      of: inFlight('hoverAtReserve', ({ point }) => point.rails[rail]?.current ?? 0),
    }),
    explain: (rail, assessment) => railExplanation(rail, 'current', assessment),
  },
};
