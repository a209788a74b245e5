/** Data as JSON that also a terminal may be shown: what would steer one, or turn text round, is escaped. */
export const jsonText = (value: unknown): string =>
  `${JSON.stringify(value, null, 2).replace(/[\x7f-\x9f\p{Cf}]/gu, escaped)}\n`;

/** By UTF-16 units, as JSON counts. */
const escaped = (character: string): string =>
  character
    .split('')
    .map((unit) => `\\u${unit.charCodeAt(0).toString(16).padStart(4, '0')}`)
    .join('');
