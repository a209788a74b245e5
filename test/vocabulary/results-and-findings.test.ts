import { describe, expect, it } from 'vitest';
import { alike } from '../../packages/language/src/units/dimension.ts';
import { unitNamed } from '../../packages/language/src/units/parse.ts';
import { describeFinding, FINDING_IDS, isFindingId } from '../../packages/language/src/vocabulary/findings.ts';
import { LIMITS } from '../../packages/language/src/vocabulary/limits.ts';
import { PLUGS, plugOf } from '../../packages/language/src/vocabulary/plugs.ts';
import { schemaOf } from '../../packages/language/src/vocabulary/properties.ts';
import {
  FLIGHT_RESULTS,
  flightResult,
  isResultName,
  nameOfResult,
  RAIL_RESULTS,
  RESULTS,
  railResult,
  resultNamed,
  resultOf,
} from '../../packages/language/src/vocabulary/results.ts';
import type { BlockKind } from '../../packages/language/src/vocabulary/schema.ts';
import { choices, WORDS } from '../../packages/language/src/vocabulary/words.ts';

describe('results', () => {
  it.each(RESULTS)('$name', ({ name, label, unit, dimension, description }) => {
    expect(name).toMatch(/^[a-z]+(_[a-z]+)*$/);
    expect(label).not.toBe('');
    expect(description).toMatch(/^\S.+\.$/);
    expect(alike(unitNamed(unit === '' ? 'cell' : unit).dimension, dimension)).toBe(true);
  });

  it('has no name twice', () => {
    expect(new Set(RESULTS.map(({ name }) => name)).size).toBe(RESULTS.length);
  });

  it('finds those of rails under the name of the rail', () => {
    expect(RAIL_RESULTS.map(({ name }) => name)).toEqual(['voltage', 'burst_voltage', 'current']);
    expect(resultOf('rail.video.burst_voltage')?.unit).toBe('V');
    expect(resultOf('rail.Top.video.voltage')?.label).toBe('rail voltage, Top.video');
    for (const wrong of ['rail.voltage', 'rail..voltage', 'rail.video', 'rail.video.mass', 'rail', 'constructor', '']) {
      expect(resultOf(wrong), wrong).toBeUndefined();
    }
    for (const wrong of ['flight.Round', 'flight..time', 'flight.A.B.time', 'flight.Round.voltage', 'hover_time.x']) {
      expect(resultOf(wrong), wrong).toBeUndefined();
    }
    expect(isResultName('hover_time')).toBe(true);
    expect(isResultName('toString')).toBe(false);
  });

  it('reads each name as it writes it', () => {
    const names = [
      ...RESULTS.map(({ name }) => name),
      ...RAIL_RESULTS.flatMap(({ name }) => [railResult('video', name), railResult('Top.video', name)]),
      ...FLIGHT_RESULTS.map(({ name }) => flightResult('TowerRound', name)),
    ];
    for (const name of names) {
      const key = resultNamed(name);
      expect(key && nameOfResult(key)).toBe(name);
      expect(resultOf(name)?.name).toBe(name);
    }
  });
});

describe('findings', () => {
  it.each(FINDING_IDS)('%s', (id) => {
    expect(id).toMatch(/^[a-z]+(-[a-z]+)*$/);
    expect(describeFinding(id)).toMatch(/^\S.+\.$/);
  });

  it('knows no others', () => {
    expect(isFindingId('pack-oversag')).toBe(true);
    expect(isFindingId('constructor')).toBe(false);
  });
});

describe('words', () => {
  it('explains every choice', () => {
    for (const word of choices()) expect(WORDS.get(word), word).toMatch(/^\S.+\.$/);
  });

  it('keeps margins only on limits that a part can state', () => {
    for (const limit of Object.keys(LIMITS)) {
      const [kind, property = ''] = limit.split('.');
      expect(schemaOf(kind as BlockKind).properties[property], limit).toBeDefined();
    }
  });
});

it('rates each plug higher for a moment than for good', () => {
  for (const plug of Object.values(PLUGS)) expect(plug.burst).toBeGreaterThan(plug.continuous);
  expect(plugOf('Bullet2')?.continuous).toBe(15);
  expect(plugOf('toString')).toBeUndefined();
});
