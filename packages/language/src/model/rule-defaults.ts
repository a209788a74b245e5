/** What counts where neither a build nor its rules state anything. The vocabulary's sentences on `air`, `flown`, `burst` and `ground` state the same. */
import { LENGTH, NONE, TEMPERATURE_POINT, TIME } from '../units/dimension.ts';
import type { Figure, FlightShare } from './build.ts';

/** SI; the half-width covers two standard deviations. */
type Standing = Pick<Figure, 'id' | 'label' | 'value' | 'dimension' | 'unit' | 'because'> & {
  readonly halfWidth?: number;
};

function standing({ halfWidth = 0, ...figure }: Standing): Figure {
  return { ...figure, standardUncertainty: halfWidth / 2, origin: 'default', conditions: {} };
}

const hovering: FlightShare = {
  share: standing({
    id: 'default.flown',
    label: 'share of the flight spent hovering',
    value: 1,
    dimension: NONE,
    unit: '%',
    because: 'all of it, unless `flown:` states otherwise',
  }),
  hoverMultiple: standing({
    id: 'default.flown.at',
    label: 'thrust over hover thrust',
    value: 1,
    dimension: NONE,
    unit: '',
    because: 'hover',
  }),
};

export const ruleDefaults = {
  air: standing({
    id: 'default.air',
    label: 'air temperature',
    value: 288.15,
    halfWidth: 10,
    dimension: TEMPERATURE_POINT,
    unit: 'degC',
    because: '15 ± 10 °C: a temperate day (common practice)',
  }),
  altitude: standing({
    id: 'default.altitude',
    label: 'altitude',
    value: 100,
    halfWidth: 200,
    dimension: LENGTH,
    unit: 'm',
    because: '100 ± 200 m above the sea: where most people fly (common practice)',
  }),
  burst: standing({
    id: 'default.burst',
    label: 'burst thrust over hover thrust',
    value: 2.5,
    dimension: NONE,
    unit: '',
    because: 'a burst is 2.5 times hover thrust (ours)',
  }),
  ground: standing({
    id: 'default.ground',
    label: 'time on the ground before take-off',
    value: 0,
    dimension: TIME,
    unit: 's',
    because: 'none, unless `ground:` states otherwise',
  }),
  flown: [hovering] as readonly FlightShare[],
};
