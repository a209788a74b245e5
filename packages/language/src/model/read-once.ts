/** Checks read the same lines for every candidate. */
export function once<T>(known: Map<string, T | undefined>, property: string, read: () => T | undefined): T | undefined {
  const found = known.get(property);
  if (found !== undefined || known.has(property)) return found;
  const made = read();
  known.set(property, made);
  return made;
}
