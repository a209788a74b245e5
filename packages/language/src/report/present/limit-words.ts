/** Limits in words: in `keep` lines and in JSON they go by their names, to people they are ratings of parts. */
const RATINGS: ReadonlyMap<string, string> = new Map([
  ['burst', 'burst rating'],
  ['continuous', 'continuous rating'],
  ['discharge', 'discharge rating'],
  ['power', 'power rating'],
]);

/**
 * `Hold15, continuous rating` for `rail.Hold15.continuous`.
 * @param name of a rating (`motor.burst`), or the id of a finding (`lead-overcurrent`)
 * @param part the rated part; without it the sort of part is named. A rail has its own name.
 */
export function limitWords(name: string, part?: string): string {
  const path = name.split('.');
  const rating = RATINGS.get(path.at(-1) ?? '');
  if (path.length < 2 || rating === undefined) return name.replaceAll('-', ' ').replace(/^esc\b/, 'ESC');
  const [sort = ''] = path;
  const rail = path.slice(1, -1).join('.');
  return `${rail || (part ?? (sort === 'esc' ? 'ESC' : sort))}, ${rating}`;
}
