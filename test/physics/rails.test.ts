import { describe, expect, test } from 'vitest';
import type { Craft, Load, Rail, RailState } from '../../packages/language/src/physics/craft.ts';
import {
  electronics,
  electronicsCurrent,
  railStates,
  requiredBusVoltage,
} from '../../packages/language/src/physics/rails.ts';
import { ductedCraft } from './sample-craft.ts';

/** What goes in and does not come out, W. */
const regulatorLoss = (state: RailState, source: number): number =>
  source * state.inputCurrent - state.voltage * state.current;

const rail = (type: Rail['type'], output: number, changes: Partial<Rail> = {}): Rail => ({
  from: 'bus',
  type,
  output,
  dropout: 0.5,
  efficiency: 0.9,
  standbyCurrent: 0,
  ...changes,
});
const current = (from: Load['from'], amount: number): Load => ({ from, kind: 'current', draw: amount, peak: amount });
const power = (from: Load['from'], amount: number): Load => ({ from, kind: 'power', draw: amount, peak: amount });
const withRails = (rails: readonly Rail[], loads: readonly Load[]): Craft =>
  ductedCraft({ rails, loads, escStandbyCurrent: 0 });

function at(craft: Craft, busVoltage: number) {
  const supplied = electronics(craft, 'draw');
  return { bus: electronicsCurrent(supplied, busVoltage), rails: railStates(supplied, busVoltage) };
}

describe('linear regulators: S. Franco, Design with Operational Amplifiers, 3rd ed., ch. 11', () => {
  test('Example 11.9: 2.5 V of drop-out on 5 V needs 7.5 V in, at best 67 % efficient', () => {
    const craft = withRails([rail('linear', 5, { dropout: 2.5 })], [current(0, 1)]);
    expect(requiredBusVoltage(craft, 0, 5)).toBe(7.5);
    const { bus, rails } = at(craft, 7.5);
    expect((5 * 1) / (7.5 * bus)).toBeCloseTo(0.667, 3);
    expect(rails[0]?.droppedOut).toBe(false);
    expect(at(craft, 7.4).rails[0]).toMatchObject({ voltage: 4.9, droppedOut: true });
  });

  test('Example 11.14: 8 V in, 5 V out, 60 K/W from 50 to 150 °C allow 0.556 A', () => {
    const { rails } = at(withRails([rail('linear', 5)], [current(0, 0.5555556)]), 8);
    expect(rails[0] && regulatorLoss(rails[0], 8)).toBeCloseTo(100 / 60, 5);
  });
});

describe('switching regulators', () => {
  test('R. W. Erickson, D. Maksimovic, ch. 3: 12.6 V to 5 V at 2 A and 94.26 % takes 0.842 A', () => {
    const { bus } = at(withRails([rail('buck', 5, { efficiency: 0.9425527 })], [current(0, 2)]), 12.6);
    expect(bus).toBeCloseTo(0.8420233, 5);
  });

  test('a buck below its output follows the input less its drop-out', () => {
    const { rails } = at(withRails([rail('buck', 5)], [power(0, 3)]), 4.7);
    expect(rails[0]?.voltage).toBeCloseTo(4.2, 12);
    expect(rails[0]?.current).toBeCloseTo(3 / 4.2, 12);
  });

  test('a boost above its output passes its input through, below it keeps its output', () => {
    const craft = withRails([rail('boost', 5)], [power(0, 3)]);
    expect(at(craft, 8.4).rails[0]).toMatchObject({ voltage: 8.4, droppedOut: false });
    expect(at(craft, 3.5).rails[0]?.voltage).toBe(5);
    expect(at(craft, 3.5).bus).toBeCloseTo(3 / 0.9 / 3.5, 12);
  });

  test('a buck-boost keeps its output on either side', () => {
    const craft = withRails([rail('buck_boost', 5)], [power(0, 3)]);
    for (const volts of [3.3, 5, 8.4]) expect(at(craft, volts).rails[0]?.voltage).toBe(5);
  });
});

describe('chains', () => {
  const chain = withRails(
    [rail('buck', 5, { standbyCurrent: 0.01 }), rail('linear', 3.3, { from: 0, standbyCurrent: 0.002 })],
    [current(1, 0.3), power(0, 1), power('bus', 4)],
  );

  test('by hand: 0.302 A through the linear one, 0.502 A at 5 V, 4 W and 0.01 A on the pack', () => {
    expect(at(chain, 8).bus).toBeCloseTo((0.502 * 5) / 0.9 / 8 + 0.01 + 4 / 8, 12);
  });

  test('the whole over bus voltage agrees with the walk through every rail, regulated or not', () => {
    for (let volts = 3; volts < 13; volts += 0.1) {
      const { bus, rails } = at(chain, volts);
      expect(bus).toBeCloseTo((rails[0]?.inputCurrent ?? 0) + 4 / volts, 12);
    }
  });

  test('energy: what the bus gives is what loads and regulators take', () => {
    for (const volts of [5.2, 6, 9]) {
      const { bus, rails } = at(chain, volts);
      const [buck, linear] = rails;
      if (!buck || !linear) throw new Error('rails');
      const taken = 4 + 1 + 0.3 * linear.voltage + regulatorLoss(buck, volts) + regulatorLoss(linear, buck.voltage);
      expect(volts * bus).toBeCloseTo(taken, 10);
    }
  });

  test('the bus voltage that a rail needs, walked back through the chain', () => {
    expect(requiredBusVoltage(chain, 1, 3)).toBeCloseTo(3 + 0.5 + 0.5, 12);
    expect(requiredBusVoltage(chain, 1, 3.5)).toBeUndefined();
    expect(requiredBusVoltage(chain, 'bus', 6)).toBe(6);
    expect(requiredBusVoltage(withRails([rail('boost', 5)], []), 0, 4.9)).toBe(0);
    expect(requiredBusVoltage(withRails([rail('buck_boost', 5)], []), 0, 5.1)).toBeUndefined();
  });

  test('a rail that has collapsed does not draw without bound', () => {
    const { bus, rails } = at(withRails([rail('linear', 5)], [power(0, 3)]), 0.51);
    expect(rails[0]?.voltage).toBeCloseTo(0.01, 12);
    expect(bus).toBeLessThan(0.01);
    expect(at(withRails([rail('linear', 5)], [power(0, 3)]), 0.4).bus).toBe(0);
  });
});
