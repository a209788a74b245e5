/** What a craft predicts for each line of an observation is the result that is computed for the same moment, in the unit of the line. */
import { describe, expect, it } from 'vitest';
import {
  type FlightReading,
  READING_NAMES,
  READINGS,
} from '../../packages/language/src/analysis/learn/flight-readings.ts';
import { alike } from '../../packages/language/src/units/dimension.ts';
import { unitNamed } from '../../packages/language/src/units/parse.ts';
import { formatValue } from '../../packages/language/src/units/print.ts';
import { schemaOf } from '../../packages/language/src/vocabulary/properties.ts';
import { assessed, flying, plain, result } from './learning-craft.ts';

const value = (name: Parameters<typeof result>[1]): number => result(plain, name).value;

/** SI, and what else is in the block. Hover is computed for 60 % of the charge, half way from full to the reserve. */
const COMPUTED: Readonly<Record<FlightReading, readonly [value: number, behind?: string]>> = {
  scale: [value('all_up_weight')],
  put_back: [value('charge_used')],
  counted: [value('charge_used')],
  hover_current: [value('hover_current'), 'at 60 %'],
  hover_output: [value('hover_duty'), 'at 60 %'],
  hover_speed: [value('hover_speed'), 'at 60 %'],
  hover_voltage: [value('hover_power') / value('hover_current'), 'at 60 %'],
  burst_current: [value('full_current')],
  burst_voltage: [value('full_voltage')],
  burst_speed: [value('full_speed')],
  rested: [4 * value('land_by_resting_voltage')],
  cell_resistance: [9.4e-3],
};

describe.each(READING_NAMES)('%s', (name) => {
  const { unit } = READINGS[name];

  it('is in a unit of its line', () => {
    const { dimension } = schemaOf('observed').properties[name] ?? {};
    expect(dimension && alike(unitNamed(unit).dimension, dimension)).toBe(true);
  });

  it('is predicted as it is computed', async () => {
    const [si, behind = ''] = COMPUTED[name];
    const airborne = `airborne: ${value('hover_time').toFixed(1)} s`;
    const [{ learnt }] = await assessed(flying(airborne, `${name}: ${formatValue(si, unit, 5)} ${behind}`));
    const line = learnt?.lines.find(({ reading }) => reading === name);
    // The current changes over a flight: of what it takes from the pack a few points are solved.
    expect(Math.abs((line?.before ?? Number.NaN) / si - 1)).toBeLessThan(0.02);
  });
});
