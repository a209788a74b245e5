/** A handful of lines in place of a test framework: the suite also runs in a worker, without any module of Node's. */
export interface Test {
  readonly name: string;
  run(): Promise<void>;
}

/** Words in the name of each test that is run; `run-workbench.ts` fills them in. */
declare const ONLY: string;

/**
 * A workbench is a program of others under load: a test that fails is tried once more in it, and both are printed.
 * @throws when a test failed twice, which is how a workbench learns the verdict.
 */
export async function runAll(tests: readonly Test[]): Promise<void> {
  let failed = 0;
  const chosen = tests.filter(({ name }) => name.includes(ONLY));
  for (const test of chosen) {
    const first = await failureOf(test);
    const second = first && (await failureOf(test));
    if (second) failed++;
    print(second ? `✗ ${test.name}` : first ? `✓ ${test.name} (at the second attempt)` : `✓ ${test.name}`);
    for (const reason of [first, second]) if (reason) print(reason);
  }
  print(`${chosen.length - failed} passed, ${failed} failed`);
  if (failed > 0) throw new Error(`${failed} failed`);
}

async function failureOf(test: Test): Promise<string | undefined> {
  try {
    await test.run();
    return undefined;
  } catch (error) {
    return error instanceof Error ? (error.stack ?? error.message) : String(error);
  }
}

/** The mark reports our lines from the workbench's own; each line has one. */
function print(text: string): void {
  for (const line of text.split('\n')) console.log(`[suite] ${line}`);
}

export function expectEqual(actual: unknown, expected: unknown): void {
  const [a, e] = [JSON.stringify(actual, null, 2), JSON.stringify(expected, null, 2)];
  if (a !== e) throw new Error(`expected\n${e}\nbut found\n${a}`);
}

export function expectMatch(actual: string, pattern: RegExp): void {
  if (!pattern.test(actual)) throw new Error(`expected a match of ${pattern} in\n${actual}`);
}

export function expectDefined<T>(value: T | undefined, what: string): T {
  if (value === undefined) throw new Error(`expected ${what}, found nothing`);
  return value;
}
