/** Logs of others, read without help; what was learnt from one flight predicts the next. One constant rests on them, see their README. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { learntOn } from '../../packages/language/src/analysis/assess.ts';
import { packsObserved } from '../../packages/language/src/analysis/learn/observed-lines.ts';
import { comparisonOf, type LogComparison } from '../../packages/language/src/analysis/log/comparison.ts';
import { flightIn } from '../../packages/language/src/analysis/log/flight-in-log.ts';
import type { FlightInLog } from '../../packages/language/src/analysis/log/flight-series.ts';
import { tooFullWords } from '../../packages/language/src/report/observe/found-words.ts';
import { checkedIn } from '../checks/findings-in.ts';
import { carrier, checkedWithLogs, NANO, observed, pack, readWithLogs } from './real-flights.ts';

const PLAIN = 'time, voltage, current';
const WITH_SPEED = 'time, voltage, current, height, ground_speed in m/s "ground_speed_mps"';
const HIGH_VOLTAGE = pack('chemistry: lihv');
const ORDINARY = pack('');

async function found(text: string, name: string): Promise<FlightInLog> {
  const builds = await readWithLogs(text);
  const log = builds.find((build) => build.name === name)?.observations[0]?.log;
  const flight = log && flightIn(log);
  if (!flight || 'none' in flight) throw new Error(flight?.none ?? 'no log');
  return flight;
}

const near = (value: number | undefined, expected: number, within: number) => {
  expect(value).toBeDefined();
  expect(Math.abs((value ?? 0) - expected)).toBeLessThanOrEqual(within);
};

describe('each log is read without help', () => {
  // Seconds in the air and charge used are those that the data set's own summary gives.
  test.each([
    ['260', 197, 1.141, 25.53, 24.01],
    ['261', 147, 0.97, 24.19, 23.1],
  ])(
    'flight %s: take-off, landing, charge, rest before and after',
    async (flight, seconds, ampereHours, before, after) => {
      for (const columns of [PLAIN, WITH_SPEED]) {
        const one = await found(carrier(observed(flight, columns), HIGH_VOLTAGE), 'Carrier');
        expect(one.legs).toHaveLength(1);
        near(one.airborne, seconds, 2);
        near((one.charge?.inAir ?? 0) / 3600, ampereHours, 0.01 * ampereHours);
        near(one.restBefore?.voltage, before, 0.03);
        near(one.restAfter?.voltage, after, 0.03);
        // The zero of the sensor wanders by 0.3 A.
        near(one.restBefore?.current, 0, 0.3);
        expect(one.isCut).toEqual({ before: false, after: false });
        expect(one.sag?.resistance).toBeGreaterThan(0.045);
        expect(one.sag?.resistance).toBeLessThan(0.1);
      }
    },
  );

  test('cruise is reported from hover by the speed over ground', async () => {
    const cruising = await found(carrier(observed('260', WITH_SPEED), HIGH_VOLTAGE), 'Carrier');
    expect(new Set(cruising.steady.map(({ kind }) => kind))).toEqual(new Set(['cruise']));
    const seconds = cruising.steady.reduce((sum, { from, to }) => sum + to - from, 0);
    expect(seconds).toBeGreaterThan(60);
    const hovering = await found(carrier(observed('223', WITH_SPEED), HIGH_VOLTAGE), 'Carrier');
    expect(hovering.steady.map(({ kind }) => kind)).toContain('hover');
  });

  test('flight 223: the log begins in the air', async () => {
    const one = await found(carrier(observed('223', PLAIN), HIGH_VOLTAGE), 'Carrier');
    expect(one.isCut).toEqual({ before: true, after: false });
    expect(one.restBefore).toBeUndefined();
    near(one.airborne, 122, 2);
    near((one.charge?.inAir ?? 0) / 3600, 0.741, 0.01);
    near(one.power, 480, 5);
  });

  test('volts alone: two hops, and the rest before them', async () => {
    const one = await found(NANO, 'Nano');
    expect(one.legs).toHaveLength(2);
    near(one.legs[0]?.from, 2.6, 0.6);
    near(one.legs[0]?.to, 11.6, 0.6);
    near(one.legs[1]?.from, 16.5, 0.6);
    near(one.restBefore?.voltage, 3.885, 0.005);
    expect(one.isCut.after).toBe(true);
  });
});

/** What the first build, which knows the first flight, makes of the second flight with more weight. */
async function expectedFlight(pack: string, columns: string): Promise<LogComparison> {
  const before = await readWithLogs(carrier(observed('260', columns), pack));
  const loaded = before.find(({ name }) => name === 'Loaded');
  const learnt = loaded && learntOn(loaded);
  const after = await readWithLogs(carrier(observed('260', columns), pack, observed('261', columns)));
  const flown = after.find(({ name }) => name === 'Loaded');
  const [second] = flown ? packsObserved(flown) : [];
  const comparison = learnt && second && comparisonOf(second, learnt, true);
  if (!comparison) throw new Error('a second flight is expected');
  return comparison;
}

describe('what was learnt from flight 260 predicts flight 261, with 250 g more', () => {
  test.each([
    ['declared as high-voltage cells', HIGH_VOLTAGE, PLAIN],
    ['declared as high-voltage cells, with speed over ground', HIGH_VOLTAGE, WITH_SPEED],
    ['declared as ordinary cells, although they rest at 4.25 V', ORDINARY, PLAIN],
    ['declared as ordinary cells, with speed over ground', ORDINARY, WITH_SPEED],
  ])('%s', async (_, declared, columns) => {
    const { compared, volts } = await expectedFlight(declared, columns);
    const power = compared.find(({ reading }) => reading === 'flown_power');
    expect(Math.abs((power?.predicted ?? 0) / (power?.measured ?? 1) - 1)).toBeLessThan(0.05);
    expect(volts?.rms).toBeLessThan(0.02);
    expect(Math.abs(volts?.mean ?? 1)).toBeLessThan(0.02);
  });
});

describe('a healthy pack raises no alarm', () => {
  test.each([
    ['flight 260', carrier(observed('260', PLAIN), HIGH_VOLTAGE)],
    ['flight 260 with speed', carrier(observed('260', WITH_SPEED), HIGH_VOLTAGE)],
    ['flight 260, ordinary cells', carrier(observed('260', PLAIN), ORDINARY)],
    ['both flights', carrier(observed('260', PLAIN), HIGH_VOLTAGE, observed('261', PLAIN))],
    ['both flights with speed', carrier(observed('260', WITH_SPEED), HIGH_VOLTAGE, observed('261', WITH_SPEED))],
    ['flight 223', carrier(observed('223', PLAIN), HIGH_VOLTAGE)],
    ['two hops, volts alone', NANO],
  ])('%s', async (_, text) => {
    const { findings } = await checkedWithLogs(text);
    const unlogged = await checkedWithLogs(text.replace(/ {2}observed[^}]*\}\n/g, ''));
    // What the parts themselves give cause for is not the log's doing.
    const before = new Set(unlogged.findings.map(({ id }) => id));
    const alarms = findings.filter(({ severity }) => severity === 'error' || severity === 'warning');
    expect(alarms.filter(({ id }) => !before.has(id)).map(({ id, message }) => `${id}: ${message}`)).toEqual([]);
  });
});

test('a log without a flight is reported, and a pack fuller than its chemistry allows', async () => {
  const rest = readFileSync(join(import.meta.dirname, '../reference/flight-logs/flight-260.csv'), 'utf8')
    .split('\n')
    .slice(0, 100)
    .join('\n');
  const text = carrier(observed('260', PLAIN), HIGH_VOLTAGE);
  const { findings } = (await checkedIn({ 'a.fettle': text, 'flight-260.csv': rest }))['a.fettle'] ?? { findings: [] };
  const reported = findings.filter(({ message }) => message.includes('nothing is learnt'));
  expect(reported.map(({ severity, message }) => `${severity}: ${message}`)).toEqual([
    'information: “flight 260”: nothing is learnt from flight-260.csv: no take-off is found in it: neither current, output nor voltage changes as in a flight.',
  ]);
  const [build] = await readWithLogs(carrier(observed('260', PLAIN), ORDINARY));
  const [one] = build ? packsObserved(build) : [];
  expect(one && tooFullWords(one)).toEqual([
    'At rest the log shows 4.25 V per cell; Six is declared with cells of 4.2 V when full. Are they high-voltage cells (chemistry: lihv), or do the recorder’s volts read high? The volts of this rest are left out.',
  ]);
});
