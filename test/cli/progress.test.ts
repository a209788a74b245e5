/** How far long work is: on a terminal only, and gone afterwards. */
import { afterAll, afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { progressOn } from '../../packages/language/src/cli/terminal-progress.ts';
import { cases } from '../long.ts';
import { Workshop } from './command.ts';

const shop = new Workshop();
afterAll(() => shop.remove());

describe('a line on a terminal', () => {
  let now = 0;
  beforeEach(() => {
    now = 0;
    vi.spyOn(performance, 'now').mockImplementation(() => now);
  });
  afterEach(() => {
    vi.restoreAllMocks();
  });

  function terminal(isTTY: boolean, columns = 80) {
    const written: string[] = [];
    return { written, stream: { isTTY, columns, write: (text: string) => written.push(text) > 0 } };
  }
  const inTerminal = (stream: ReturnType<typeof terminal>['stream'], environment = {}) =>
    progressOn(stream as never, environment);

  it('comes when the work is long, goes when it is done', () => {
    const { written, stream } = terminal(true);
    const progress = inTerminal(stream, { NO_COLOR: '1' });
    progress.step('checking files', 1, 2000);
    expect(written).toEqual([]);
    now = 1000;
    progress.step('checking files', 120, 2000);
    progress.step('checking files', 121, 2000);
    expect(written).toEqual(['\r\u001b[2Kchecking files, 120 of 2000 …']);
    progress.end();
    expect(written.at(-1)).toBe('\r\u001b[2K');
  });

  it('leaves nothing of short work, of a pipe, or of a terminal that cannot clear a line', () => {
    for (const { stream, written } of [terminal(false), terminal(true)]) {
      const progress = inTerminal(stream, stream.isTTY ? { TERM: 'dumb' } : {});
      now += 5000;
      progress.step('checking files', 1, 2);
      progress.end();
      expect(written).toEqual([]);
    }
    const { stream, written } = terminal(true);
    inTerminal(stream).end();
    expect(written).toEqual([]);
  });

  it('never wraps', () => {
    const { stream, written } = terminal(true, 12);
    const progress = inTerminal(stream);
    now += 5000;
    progress.step('checking files', 1, 2);
    expect(written).toEqual(['\r\u001b[2K']);
  });
});

it('is in no pipe', () => {
  for (let i = 0; i < cases(30, 120); i++)
    shop.write(`many/${i}/b.fettle`, `use "../../examples/builds"\nbuild B${i} like Gable { }\n`);
  expect(shop.fettle('check', 'many').err).toBe('');
});
