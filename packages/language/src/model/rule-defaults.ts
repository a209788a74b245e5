/** What counts where neither a build nor its rules state anything. The vocabulary's sentences on `air`, `flown`, `burst` and `ground` state the same. */
import { LENGTH, NONE, TEMPERATURE_POINT, TIME } from '../units/dimension.ts';
import type { PropertyName } from '../vocabulary/properties.ts';
import type { Figure, FlightShare } from './build.ts';

/** SI; the half-width covers two standard deviations. */
type Standing = Pick<Figure, 'id' | 'label' | 'value' | 'dimension' | 'unit' | 'because'> & {
  readonly halfWidth?: number;
  /** Of the rules, which would state it. */
  readonly property: PropertyName;
};

function standing({ halfWidth = 0, property, ...figure }: Standing): Figure {
  const whose = { sort: 'property', kind: 'rules', part: '', property } as const;
  return { ...figure, whose, standardUncertainty: halfWidth / 2, origin: 'default', conditions: {} };
}

const hovering: FlightShare = {
  share: standing({
    id: 'default.flown',
    property: 'flown',
    label: 'share of the flight spent hovering',
    value: 1,
    dimension: NONE,
    unit: '%',
    because: 'all of it, unless `flown:` states otherwise',
  }),
  hoverMultiple: standing({
    id: 'default.flown.at',
    property: 'flown',
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
    property: 'air',
    label: 'air temperature',
    value: 288.15,
    halfWidth: 10,
    dimension: TEMPERATURE_POINT,
    unit: 'degC',
    because: '15 ± 10 °C: a temperate day (common practice)',
  }),
  altitude: standing({
    id: 'default.altitude',
    property: 'air',
    label: 'altitude',
    value: 100,
    halfWidth: 200,
    dimension: LENGTH,
    unit: 'm',
    because: '100 ± 200 m above the sea: where most people fly (common practice)',
  }),
  burst: standing({
    id: 'default.burst',
    property: 'burst',
    label: 'burst thrust over hover thrust',
    value: 2.5,
    dimension: NONE,
    unit: '',
    because: 'a burst is 2.5 times hover thrust (ours)',
  }),
  ground: standing({
    id: 'default.ground',
    property: 'ground',
    label: 'time on the ground before take-off',
    value: 0,
    dimension: TIME,
    unit: 's',
    because: 'none, unless `ground:` states otherwise',
  }),
  flown: [hovering],
};
