/** What check prints for programs is what the reference's schema describes. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import ajv2020 from 'ajv/dist/2020.js';
import { afterAll, describe, expect, it } from 'vitest';
import { cases } from '../long.ts';
import { root, Workshop } from './command.ts';

const shop = new Workshop();
afterAll(() => shop.remove());
const schema = JSON.parse(readFileSync(join(root, 'packages/language/reference/check.schema.json'), 'utf8'));
const validate = new ajv2020.default({ strict: true, strictRequired: true, allErrors: true }).compile(schema);
const printed = (...args: string[]) => JSON.parse(shop.fettle('check', ...args, '--format', 'json').out);

describe('the schema of check', () => {
  it.each([
    ['all examples', ['examples']],
    // Spire has been flown and weighed, has a flight and a requirement.
    ['derivations', [cases(0, 1) ? 'examples/builds' : 'examples/builds/spire.fettle', '--explain']],
    ['a folder that is not there', ['nowhere']],
  ])('describes %s', (_, args) => {
    validate(printed(...args));
    expect(validate.errors ?? []).toEqual([]);
  });

  it('names of what was measured the build, the file and the lines', () => {
    shop.write('examples/builds/tall-spire.fettle', 'use "../stands"\nbuild TallSpire like Spire {\n  item: 12 g\n}\n');
    const { builds } = printed('examples/builds/spire.fettle', 'examples/builds/tall-spire.fettle');
    for (const name of ['Spire', 'TallSpire']) {
      const [option] = builds.find((build: { name: string }) => build.name === name).options;
      expect(option.calibratedBy.length).toBeGreaterThan(1);
      for (const { title, build, file, range } of option.calibratedBy) {
        const lines = readFileSync(join(shop.folder, file), 'utf8').split('\n');
        const written = lines.slice(range.start.line - 1, range.end.line).join('\n');
        expect(written).toMatch(build === undefined ? new RegExp(`${title}`) : new RegExp(`observed "${title}"`));
        if (build !== undefined) expect(build).toBe('Spire');
      }
    }
  });

  it('refuses what is not described', () => {
    const all = printed('examples/builds/gable.fettle');
    expect(validate({ ...all, more: 1 })).toBe(false);
    expect(validate({ ...all, builds: [{ ...all.builds[0], options: [{ pack: 'Mast' }] }] })).toBe(false);
  });
});
