/** What choose, try, sensitivity and solve print for programs is what the reference's schema describes. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import ajv2020 from 'ajv/dist/2020.js';
import { afterAll, describe, expect, it } from 'vitest';
import { root, Workshop } from './command.ts';

const shop = new Workshop();
afterAll(() => shop.remove());
const schema = JSON.parse(readFileSync(join(root, 'packages/language/reference/decisions.schema.json'), 'utf8'));
const ajv = new ajv2020.default({ strict: true, strictRequired: true, allowUnionTypes: true, allErrors: true });
ajv.addSchema({ ...schema, $id: 'decisions' });

const IN = ['--in', 'examples/builds', '--format', 'json'];

describe('the schema of decisions', () => {
  let chosen: ReturnType<typeof shop.fettle> | undefined;
  /** Judged once for all that look at it. */
  const towerPack = () => {
    chosen ??= shop.fettle('choose', 'TowerPack', ...IN);
    return chosen;
  };

  it.each([
    ['choose', ['TowerPack', ...IN]],
    ['choose', ['Spire', '--vary', 'Mast720_4S', '--prefer', 'price', ...IN]],
    ['choose', ['Spire', '--vary', 'Mast720_4S', '--require', 'hover_time >= 90 min', '--prefer', 'hover_time', ...IN]],
    ['try', ['Spire', 'item: 900 g', ...IN]],
    ['try', ['Gable', 'pack: Mast720_4S', ...IN]],
    ['sensitivity', ['hover_time', 'Belfry', 'examples/builds', '--format', 'json']],
    ['solve', ['Spire', '--most', 'item mass', '--keep', 'thrust_to_weight >= 3', ...IN]],
    ['solve', ['Spire', '--least', 'pack capacity', '--keep', 'hover_time >= 90 min', ...IN]],
    ['solve', ['Spire', '--most', 'air', '--keep', 'thrust_to_weight >= 1', ...IN]],
  ] as const)('describes %s %j', (command, args) => {
    const { out, err } = args[0] === 'TowerPack' ? towerPack() : shop.fettle(command, ...args);
    expect(err).toBe('');
    const validate = ajv.getSchema(`decisions#/$defs/${command}`);
    if (!validate) throw new Error(`no schema of ${command}`);
    validate(JSON.parse(out));
    expect(validate.errors ?? []).toEqual([]);
  });

  it('refuses what is not described', () => {
    const validate = ajv.getSchema('decisions#/$defs/choose');
    expect(validate?.({ version: 1 })).toBe(false);
    const printed = JSON.parse(towerPack().out);
    expect(validate?.({ ...printed, more: 1 })).toBe(false);
    expect(validate?.({ ...printed, rows: [{ ...printed.rows[0], rank: 0 }] })).toBe(false);
  });
});
