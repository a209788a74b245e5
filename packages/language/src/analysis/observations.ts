/** What was observed beside what the figures alone predict for it: the pack that was on, in the air of that day. */
import type { Build, Figure, Observation, PackOption } from '../model/build.ts';
import { packRestingVoltage } from '../physics/chemistry.ts';
import type { Pack } from '../physics/craft.ts';
import type { Assessment, Estimate } from './assessment.ts';
import { packsInParallel } from './craft.ts';
import { divide, standardUncertainty } from './estimate.ts';
import { packObserved } from './mass.ts';

/** What a line of an observation is about; `average_current` comes from what the charger put back. */
export type Reading =
  | 'hover_current'
  | 'average_current'
  | 'hover_output'
  | 'hover_speed'
  | 'hover_voltage'
  | 'burst_current'
  | 'burst_voltage'
  | 'burst_speed'
  | 'rested'
  | 'motor_temperature'
  | 'cell_resistance';

export interface ObservedLine {
  readonly reading: Reading;
  readonly unit: string;
  /** Its ± is that of the instrument, and of what the line leaves open (a voltage in hover says no charge). */
  readonly observed: Figure;
  readonly predicted: Estimate;
}

/** An observation whose pack is known: named, or the only one. */
export interface PackObserved {
  readonly observation: Observation;
  /** Without any observation, in the air of this one. */
  readonly prior: Build;
  readonly option: PackOption;
}

export function packsObserved(build: Build): PackObserved[] {
  return build.observations.flatMap((observation) => {
    const option = packObserved(build, observation);
    return option ? [{ observation, prior: priorOf(build, observation), option }] : [];
  });
}

const withoutAny = new WeakMap<Build, Build>();
const inOtherAir = new WeakMap<Observation, Build>();

/** The same object each time, so that it is assessed once. */
function priorOf(build: Build, observation: Observation): Build {
  const plain = withoutAny.get(build) ?? { ...build, observations: [] };
  withoutAny.set(build, plain);
  const air = observation.part.declared('air');
  if (!air) return plain;
  const altitude = air.conditions.at ?? build.rules.altitude;
  const other = inOtherAir.get(observation) ?? {
    ...plain,
    rules: { ...build.rules, airTemperature: air, altitude },
  };
  inOtherAir.set(observation, other);
  return other;
}

/** @param pack of the observed option, as the physics takes it */
export function linesOf({ part }: Observation, predicted: Assessment, pack: Pack | undefined): ObservedLine[] {
  const result = (name: string): Estimate | undefined => predicted.results.get(name)?.estimate;
  const line = (reading: Reading, unit: string, estimate: Estimate | undefined, observed = part.declared(reading)) =>
    observed && estimate ? [{ reading, unit, observed, predicted: estimate }] : [];
  const charge = chargeOut(part, predicted);
  return [
    ...line('hover_current', 'A', result('hover_current')),
    ...line('average_current', 'A', result('hover_current'), averageCurrent(part)),
    ...line('hover_output', '%', result('hover_duty')),
    ...line('hover_speed', 'rpm', result('hover_speed')),
    ...line('hover_voltage', 'V', hoverVoltage(predicted), atAnyCharge(part.declared('hover_voltage'), predicted)),
    ...line('burst_current', 'A', result('full_current')),
    ...line('burst_voltage', 'V', result('full_voltage')),
    ...line('burst_speed', 'rpm', result('full_speed')),
    ...(pack && charge
      ? line('rested', 'V', restedVoltage(charge, predicted, pack), withChargeError(part, charge, pack, predicted))
      : []),
    ...line('motor_temperature', 'degC', result('motor_temperature')),
    ...line('cell_resistance', 'mohm', cellResistance(predicted)),
  ];
}

/** What the charger put back, over the time in the air; only where it hovered all the time, as it does unless `flown` says otherwise. */
function averageCurrent(part: Observation['part']): Figure | undefined {
  const time = part.declared('airborne');
  const charge = part.declared('put_back');
  if (!time || !charge || time.value === 0 || part.declared('flown')) return undefined;
  const value = charge.value / time.value;
  const relative = Math.hypot(relativeOf(time), relativeOf(charge));
  return { ...charge, value, unit: 'A', standardUncertainty: value * relative };
}

const relativeOf = ({ value, standardUncertainty: u }: Figure): number => u / value;

function hoverVoltage({ results }: Assessment): Estimate | undefined {
  const power = results.get('hover_power')?.estimate;
  const current = results.get('hover_current')?.estimate;
  return power && current && divide(power, current);
}

/** It was read anywhere between the full pack and the reserve; half of that is two standard deviations. */
function atAnyCharge(observed: Figure | undefined, { points }: Assessment): Figure | undefined {
  const { hover, hoverAtReserve: last } = points;
  if (!observed || !hover || !last || 'impossible' in hover || 'impossible' in last) return undefined;
  const spread = hover.busVoltage - last.busVoltage;
  return { ...observed, standardUncertainty: Math.hypot(observed.standardUncertainty, spread / 2) };
}

/** C out of the pack at landing: what was put back, or what hovering so long took. */
function chargeOut(part: Observation['part'], { results }: Assessment): Estimate | undefined {
  const back = part.declared('put_back');
  if (back) return { value: back.value, contributions: Float64Array.of(back.standardUncertainty) };
  const time = part.declared('airborne');
  const current = results.get('hover_current')?.estimate;
  if (!time || !current || part.declared('flown')) return undefined;
  const value = time.value * current.value;
  const relative = Math.hypot(relativeOf(time), standardUncertainty(current) / current.value);
  return { value, contributions: Float64Array.of(value * relative) };
}

/** At rest all of the label's charge counts, not only what flying rates give. */
const restingAt = (charge: number, label: number, pack: Pack): number =>
  packRestingVoltage(pack, Math.min(1, Math.max(0, 1 - charge / label)));

const labelOf = ({ option }: Assessment): Figure | undefined => option.part.figure('capacity');

/** Moved by the capacity and by the offset of the resting curve. */
function restedVoltage(charge: Estimate, predicted: Assessment, pack: Pack): Estimate | undefined {
  const label = labelOf(predicted);
  if (!label) return undefined;
  const capacity = label.value * packsInParallel(predicted.option);
  const at = (relative: number, offset: number) =>
    restingAt(charge.value, capacity * (1 + relative), { ...pack, restingOffset: pack.restingOffset + offset });
  const value = at(0, 0);
  const contributions = predicted.inputs.map(({ id, standardUncertainty: u }) =>
    id === label.id ? at(u / label.value, 0) - value : id === 'model.resting_voltage' ? at(0, u) - value : 0,
  );
  return { value, contributions: Float64Array.from(contributions) };
}

function withChargeError(part: Observation['part'], charge: Estimate, pack: Pack, predicted: Assessment) {
  const observed = part.declared('rested');
  const label = labelOf(predicted);
  if (!observed || !label) return undefined;
  const capacity = label.value * packsInParallel(predicted.option);
  const u = standardUncertainty(charge);
  const slope = restingAt(charge.value + u, capacity, pack) - restingAt(charge.value - u, capacity, pack);
  return { ...observed, standardUncertainty: Math.hypot(observed.standardUncertainty, slope / 2) };
}

/** As the pack's page or its claims say; a pack that is said to be worn has no figure that a charger would show. */
function cellResistance({ option: { part }, inputs }: Assessment): Estimate | undefined {
  const figure = part.figure('cell_resistance');
  if (!figure || part.figure('cycles')) return undefined;
  const contributions = inputs.map(({ id, standardUncertainty: u }) => (id === figure.id ? u : 0));
  return { value: figure.value, contributions: Float64Array.from(contributions) };
}

export interface Comparison {
  /** Observed less predicted. */
  readonly difference: number;
  /** Of the difference, one standard deviation. */
  readonly standardUncertainty: number;
}

export function compare(observed: Figure, predicted: Estimate): Comparison {
  return {
    difference: observed.value - predicted.value,
    standardUncertainty: Math.hypot(observed.standardUncertainty, standardUncertainty(predicted)),
  };
}
