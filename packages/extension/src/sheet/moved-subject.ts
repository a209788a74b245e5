interface Placed {
  readonly range: { readonly start: { readonly line: number } };
}

/** What a build is called now, where it alone of its file's builds got another name. */
export function renamedTo(name: string, before: readonly string[], now: readonly string[]): string | undefined {
  const gone = before.filter((one) => !now.includes(one));
  const fresh = now.filter((one) => !before.includes(one));
  return gone.length === 1 && gone[0] === name && fresh.length === 1 ? fresh[0] : undefined;
}

/** The build in which a line is: the last that begins at it or above. */
export function buildAt<Build extends Placed>(line: number, builds: readonly Build[]): Build | undefined {
  return builds.findLast(({ range }) => range.start.line <= line);
}

/** Where a file is after it, or a folder above it, was moved. */
export function movedUri(uri: string, from: string, to: string): string | undefined {
  if (uri === from) return to;
  return uri.startsWith(`${from}/`) ? to + uri.slice(from.length) : undefined;
}
