/** What counts where neither a build nor its rules say anything; each with its ± (two standard deviations). */
import { LENGTH, NONE, TEMPERATURE_POINT, TIME } from '../units/dimension.ts';
import type { Dimension } from '../units/quantity.ts';
import type { Figure, FlightShare } from './build.ts';

function standing(
  name: string,
  label: string,
  value: number,
  dimension: Dimension,
  unit: string,
  halfWidth: number,
  because: string,
): Figure {
  const standardUncertainty = halfWidth / 2;
  return {
    id: `default.${name}`,
    label,
    value,
    dimension,
    unit,
    standardUncertainty,
    origin: 'default',
    because,
    conditions: {},
  };
}

const share = standing(
  'flown',
  'share of the flight spent hovering',
  1,
  NONE,
  '%',
  0,
  'all hover, unless `flown:` says otherwise',
);
const multiple = standing('flown.at', 'thrust over hover thrust', 1, NONE, '', 0, 'hover');
const hovering: FlightShare = { share, hoverMultiple: multiple };

export const ruleDefaults = {
  air: standing(
    'air',
    'air temperature',
    288.15,
    TEMPERATURE_POINT,
    'degC',
    10,
    '15 °C, the standard atmosphere (ISO 2533)',
  ),
  altitude: standing('altitude', 'altitude', 0, LENGTH, 'm', 200, 'sea level, the standard atmosphere (ISO 2533)'),
  burst: standing(
    'burst',
    'burst thrust over hover thrust',
    2.5,
    NONE,
    '',
    0,
    'a burst is 2.5 times hover thrust (ours)',
  ),
  ground: standing(
    'ground',
    'time on the ground before take-off',
    0,
    TIME,
    's',
    0,
    'none, unless `ground:` says otherwise',
  ),
  flown: [hovering] as readonly FlightShare[],
};
