/** `fettle check --format …`: each format is printed alone, and exits as the text does. What it prints is in `test/report/formats.test.ts`. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { CHECK_FORMATS } from '../../packages/language/src/cli/formats.ts';
import { Workshop } from './command.ts';

const shop = new Workshop();
beforeAll(() => {
  shop.write('sound.fettle', 'fettle 1\n\nitem Bat { mass: 3 g }\n');
  shop.write('slip.fettle', 'item Owl { mass: 3 mm }\n');
});
afterAll(() => shop.remove());

describe.each(CHECK_FORMATS)('%s', (format) => {
  const check = (path: string) => shop.fettle('check', path, '--format', format);

  it('exits with 1 at an error, with 0 without one, with 2 where a file could not be read', () => {
    const { code, out, err } = check('slip.fettle');
    expect([code, err]).toEqual([1, '']);
    expect(out).toContain('wrong-dimension');
    expect(check('sound.fettle').code).toBe(0);
    const failed = check('nowhere');
    expect(failed.code).toBe(2);
    expect(failed.out).toContain('there is no such file or folder');
  });
});
