/** Maps from a key to a set of documents. */

export function addTo<Key>(map: Map<Key, Set<string>>, key: Key, value: string): void {
  const set = map.get(key);
  if (set) set.add(value);
  else map.set(key, new Set([value]));
}

export function removeFrom<Key>(map: Map<Key, Set<string>>, key: Key, value: string): void {
  const set = map.get(key);
  set?.delete(value);
  if (set?.size === 0) map.delete(key);
}

/** Everything that is reached from the starts by one step or several. */
export function reachedBy(steps: ReadonlyMap<string, ReadonlySet<string>>, starts: Iterable<string>): Set<string> {
  const reached = new Set<string>();
  const queue = [...starts];
  for (let from = queue.pop(); from !== undefined; from = queue.pop()) {
    for (const to of steps.get(from) ?? []) {
      if (reached.has(to)) continue;
      reached.add(to);
      queue.push(to);
    }
  }
  return reached;
}
