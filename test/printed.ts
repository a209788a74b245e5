/** What the command prints, run in this process: for tests that put something of their own into it. */
import { vi } from 'vitest';

export interface Reported {
  readonly code: number;
  readonly out: string;
  readonly err: string;
}

/** @param folder where it runs */
export async function printedBy(run: () => Promise<number>, folder = process.cwd()): Promise<Reported> {
  let out = '';
  let err = '';
  const spies = [
    vi.spyOn(process, 'cwd').mockReturnValue(folder),
    vi.spyOn(process.stdout, 'write').mockImplementation((text) => {
      out += String(text);
      return true;
    }),
    vi.spyOn(process.stderr, 'write').mockImplementation((text) => {
      err += String(text);
      return true;
    }),
  ];
  try {
    return { code: await run(), out, err };
  } finally {
    for (const spy of spies) spy.mockRestore();
  }
}
