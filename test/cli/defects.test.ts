/** A mistake of ours in one file: told at that file, in each format; everything else is judged, and the run is not called clean. */
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test, vi } from 'vitest';
import { check } from '../../packages/language/src/cli/check-command.ts';
import { CHECK_FORMATS } from '../../packages/language/src/cli/formats.ts';
import { listBuilds } from '../../packages/language/src/cli/list-command.ts';
import { findings as findingsOf, parse } from '../../packages/language/src/index.ts';
import { Workshop } from './command.ts';

// One reader of parts and one check of a craft: a mistake for what is called so.
vi.mock('../../packages/language/src/checks/text/contradictions.ts', async (original) => {
  const real = await original<typeof import('../../packages/language/src/checks/text/contradictions.ts')>();
  const { contradictions } = real;
  return {
    ...real,
    contradictions: (part: { name?: string }) => {
      if (part.name === 'Unlucky') throw new TypeError('a mistake in reading');
      return contradictions(part as never);
    },
  };
});
vi.mock('../../packages/language/src/checks/acceptances.ts', async (original) => {
  const real = await original<typeof import('../../packages/language/src/checks/acceptances.ts')>();
  const { applyAcceptances } = real;
  return {
    ...real,
    applyAcceptances: (...args: Parameters<typeof applyAcceptances>) => {
      if (args[0].name === 'UnluckyCraft') throw new TypeError('a mistake in checking');
      return applyAcceptances(...args);
    },
  };
});

let workshop: Workshop;
let out = '';
let err = '';

beforeAll(() => {
  workshop = new Workshop();
  workshop.write('here/a.fettle', 'item Unlucky { mass: 3 g }\nitem Strap { mass: 1 V }\n');
  workshop.write('here/b.fettle', 'build UnluckyCraft { item: 2 x Strap2 }\nitem Strap2 { mass: 3 g }\n');
  workshop.write('here/c.fettle', 'item Slip { mass: 1 A }\n');
  workshop.write('there/d.fettle', 'item Fine { mass: 1 g }\n');
});
afterAll(() => workshop.remove());

async function told(run: () => Promise<number>): Promise<number> {
  out = '';
  err = '';
  const keep = (add: (text: string) => void) => (text: string | Uint8Array) => {
    add(String(text));
    return true;
  };
  const outSpy = vi.spyOn(process.stdout, 'write').mockImplementation(
    keep((text) => {
      out += text;
    }),
  );
  const errSpy = vi.spyOn(process.stderr, 'write').mockImplementation(
    keep((text) => {
      err += text;
    }),
  );
  try {
    return await run();
  } finally {
    outSpy.mockRestore();
    errSpy.mockRestore();
  }
}

const at = (path: string): string => join(workshop.folder, path);

describe('a mistake of ours in one file', () => {
  test.each(CHECK_FORMATS)('as %s: named at its file, the other slips are told, exit code 2', async (format) => {
    const code = await told(() => check([at('here')], { format, failOn: 'error' }));
    expect(code).toBe(2);
    for (const [file, mistake] of [
      ['a.fettle', 'a mistake in reading'],
      ['b.fettle', 'a mistake in checking'],
    ] as const) {
      expect(out).toContain(file);
      expect(out.split(mistake)).toHaveLength(2);
    }
    // Of the same file, and of the next one.
    expect(out).toMatch(/expected (a )?mass/);
    expect(out).toContain('c.fettle');
    expect(out).not.toMatch(/^\s+at .*\.ts:\d/m);
    expect(err).not.toContain('internal error');
  });

  test('where there is none, nothing is told', async () => {
    expect(await told(() => check([at('there')], { format: 'text', failOn: 'error' }))).toBe(0);
  });

  test('a list names the file and shows the rest', async () => {
    expect(await told(() => listBuilds([at('here')], 'text'))).toBe(2);
    expect(out).toContain('UnluckyCraft');
    expect(err).toContain('a mistake in reading');
  });

  test('the library hands it on as a failure', async () => {
    const workspace = await parse({ 'a.fettle': 'item Unlucky { mass: 3 g }\nitem Strap { mass: 1 V }\n' });
    expect(workspace.failures).toMatchObject([
      { path: 'a.fettle', message: expect.stringContaining('a mistake in reading') },
    ]);
    expect(findingsOf(workspace)).toHaveLength(1);
  });
});
