/** Runs the built command as often as requested. What a run prints is taken down as a pipe would. */
import type { Ran, WarmRun } from './warm-command.ts';

const entry = new URL('../../packages/language/dist/cli.js', import.meta.url).href;

type Write = typeof process.stdout.write;

let runs = 0;

async function ran({ folder, args, environment }: WarmRun): Promise<Ran> {
  process.chdir(folder);
  process.env = environment;
  process.argv = [process.execPath, entry, ...args];
  process.exitCode = undefined;
  process.stdout.removeAllListeners('error');
  const texts = { out: '', err: '' };
  let exit: (code: number) => void = () => undefined;
  const exited = new Promise<number>((resolve) => {
    exit = resolve;
  });
  let hasExited = false;
  const taking =
    (stream: keyof typeof texts): Write =>
    (chunk: string | Uint8Array, ...rest: unknown[]) => {
      if (!hasExited) texts[stream] += typeof chunk === 'string' ? chunk : Buffer.from(chunk).toString('utf8');
      const done = rest.find((one) => typeof one === 'function');
      if (done) queueMicrotask(done as () => void);
      return true;
    };
  process.stdout.write = taking('out');
  process.stderr.write = taking('err');
  process.exit = (code) => {
    hasExited = true;
    exit(Number(code ?? process.exitCode ?? 0));
    // Nothing behind it runs, as if the process were gone; who catches this prints into nothing.
    throw new Error('the process has exited');
  };
  runs += 1;
  const ended = import(`${entry}?run=${runs}`).then(() => Number(process.exitCode ?? 0));
  const code = await Promise.race([exited, ended]);
  return { code, ...texts };
}

process.on('message', async (run: WarmRun) => process.send?.(await ran(run)));
// The client is gone.
process.on('disconnect', () => process.kill(process.pid));
