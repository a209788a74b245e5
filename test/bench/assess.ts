/** What one assessment costs, with and without its ±, in processor time: `node test/bench/assess.ts`. */
import { assess, prepare } from '../../packages/language/src/analysis/assess.ts';
import type { Build } from '../../packages/language/src/model/build.ts';
import { Rafter, Slim480_2S, Slim480_3S } from '../analysis/rafter.ts';

/** Median processor time of one call, µs, over rounds of many calls. */
function median(call: () => void, calls: number, rounds = 25): number {
  for (let i = 0; i < calls; i++) call();
  const durations: number[] = [];
  for (let round = 0; round < rounds; round++) {
    const start = process.cpuUsage();
    for (let i = 0; i < calls; i++) call();
    const { user, system } = process.cpuUsage(start);
    durations.push((user + system) / calls);
  }
  return durations.sort((a, b) => a - b)[Math.floor(rounds / 2)] ?? Number.NaN;
}

/** A new object each time: assessments are remembered by build. */
const anew = (build: Build): Build => ({ ...build });

for (const option of [Slim480_2S, Slim480_3S]) {
  const without = median(() => prepare(Rafter, option), 200);
  const withUncertainty = median(() => assess(anew(Rafter), option), 50);
  console.log(`${option.name}: ${without.toFixed(0)} µs without ±, ${withUncertainty.toFixed(0)} µs with ±`);
}
