import { describe, expect, it } from 'vitest';
import { checkedIn } from '../checks/findings-in.ts';

/** What the language stated before, and what it states now. */
const PAIRS: readonly (readonly [string, string])[] = [
  ['motor M { idle: 0.6 A at 7.4 V }', 'motor M { no_load_current: 0.6 A at 7.4 V }'],
  ['motor M { screw: 2.5 mm }', 'motor M { screw_depth: 2.5 mm }'],
  ['motor M { heat_path: 12 K/W }', 'motor M { thermal_resistance: 12 K/W }'],
  ['motor M { hottest: 140 degC }', 'motor M { max_temperature: 140 degC }'],
  ['propeller P { top_speed: 40000 rpm }', 'propeller P { max_speed: 40000 rpm }'],
  ['airframe F { guard: 54 mm }', 'airframe F { guard_diameter: 54 mm }'],
  ['airframe F { arm: 2 mm }', 'airframe F { arm_thickness: 2 mm }'],
  ['airframe F { screw: 6 mm }', 'airframe F { screw_length: 6 mm }'],
  ['esc E { idle: 90 mA at 8 V }', 'esc E { standby_current: 90 mA at 8 V }'],
  ['esc E { switching: 48 kHz }', 'esc E { pwm_frequency: 48 kHz }'],
  ['esc E { rail video { idle: 4 mA } }', 'esc E { rail video { standby_current: 4 mA } }'],
  ['regulator R { type: both }', 'regulator R { type: buck_boost }'],
  ['rules R { keep 20 % in hand on esc.continuous }', 'rules R { keep 20 % in reserve on esc.continuous }'],
  ['pack P { seasons: 2 }', 'pack P { cycles: 200 }'],
  ['build B { require blocked_current <= 40 A }', 'build B { require stall_current <= 40 A }'],
  ['build B { require blocked_ratio <= 2 }', 'build B { require stall_ratio <= 2 }'],
  [
    'build B { observed "a flight" { bell: 60 degC } }',
    'build B { observed "a flight" { motor_temperature: 60 degC } }',
  ],
];

const withoutPlaces = (findings: readonly { readonly id: string; readonly message: string }[]) =>
  findings.map(({ id, message }) => `${id}: ${message}`);

describe('a name that the language had before', () => {
  it.each(PAIRS)('%s is read as %s', async (before, now) => {
    const { 'a.fettle': old } = await checkedIn({ 'a.fettle': before });
    const { 'a.fettle': fresh } = await checkedIn({ 'a.fettle': now });
    const hints = old?.findings.filter(({ id }) => id === 'former-name') ?? [];
    expect(hints.map(({ severity }) => severity)).toEqual(['hint']);
    expect(withoutPlaces(old?.findings.filter(({ id }) => id !== 'former-name') ?? [])).toEqual(
      withoutPlaces(fresh?.findings ?? []),
    );

    let mended = before;
    const edits = hints.flatMap(({ fixes }) => fixes[0]?.edits ?? []);
    for (const { place, newText } of edits.toSorted((one, other) => other.place.start - one.place.start)) {
      mended = mended.slice(0, place.start) + newText + mended.slice(place.end);
    }
    expect(mended).toBe(now);
  });

  it('is no news for a part or a pack that bears the word', async () => {
    const { 'a.fettle': own } = await checkedIn({ 'a.fettle': 'item both { mass: 3 g }\nbuild B { item: both }' });
    expect(own?.findings.some(({ id }) => id === 'former-name')).toBe(false);
  });
});
