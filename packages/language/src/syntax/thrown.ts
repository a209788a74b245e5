/** What is caught may be anything; mostly it is an error. */

export const asError = (thrown: unknown): Error => (thrown instanceof Error ? thrown : new Error(String(thrown)));

export const messageOf = (thrown: unknown): string => asError(thrown).message;

/** What the system calls the reason: `ENOENT`. */
export function errorCodeOf(thrown: unknown): string | undefined {
  if (typeof thrown !== 'object' || thrown === null || !('code' in thrown)) return undefined;
  return typeof thrown.code === 'string' ? thrown.code : undefined;
}
