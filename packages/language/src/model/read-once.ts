/** Checks read the same lines for every candidate. */
export function readOnce<Key, T>(known: Map<Key, T | undefined>, key: Key, read: () => T | undefined): T | undefined {
  const found = known.get(key);
  if (found !== undefined || known.has(key)) return found;
  const made = read();
  known.set(key, made);
  return made;
}
