import { expect, test } from 'vitest';
import { Rhythm } from '../../packages/language/src/editor/diagnostics/rhythm.ts';
import { cases } from '../long.ts';

const nextTurn = () => new Promise((resolve) => setImmediate(resolve));

test('a server that was busy does not take for a pause what it had no time to read', async () => {
  const rhythm = new Rhythm();
  const reached: string[] = [];
  rhythm.keyed((_, pause) => reached.push(pause));
  // Longer than the shortest pause; at length than all of them.
  for (const busyUntil = performance.now() + cases(400, 3500); performance.now() < busyUntil; );
  // The next key is there already, behind the timers in the order of the event loop.
  await nextTurn();
  rhythm.stop();
  await nextTurn();
  expect(reached).toEqual([]);
});

test('without another key each pause is reached in its order', async () => {
  const rhythm = new Rhythm();
  const waiting: { readonly ms: number; readonly act: () => void }[] = [];
  rhythm.clock = {
    now: () => 0,
    after: (ms, act) => {
      waiting.push({ ms, act });
      return () => undefined;
    },
  };
  const reached: number[] = [];
  rhythm.keyed((stage) => reached.push(stage));
  for (const { act } of waiting.toSorted((one, other) => one.ms - other.ms)) act();
  expect(reached).toEqual([1, 1, 2, 3, 4]);
});

test('the pauses of somebody who types slowly are longer than between two of the keys', () => {
  const rhythm = new Rhythm();
  let now = 0;
  let shortest = 0;
  rhythm.clock = {
    now: () => now,
    after: (ms) => {
      shortest = Math.min(shortest, ms);
      return () => undefined;
    },
  };
  for (let key = 0; key < 3; key++) {
    shortest = Number.POSITIVE_INFINITY;
    rhythm.keyed(() => undefined);
    now += 1000;
  }
  expect(shortest).toBeGreaterThan(1000);
});
