/** What is caught may be anything; mostly it is an error. */

export const asError = (thrown: unknown): Error => (thrown instanceof Error ? thrown : new Error(String(thrown)));

export const messageOf = (thrown: unknown): string => asError(thrown).message;
