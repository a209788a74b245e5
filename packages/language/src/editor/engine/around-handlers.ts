/** A connection as the server sees it, with something done around each handler that is set on it, in its groups as well. */
// biome-ignore lint/suspicious/noExplicitAny: handlers of every sort
export type AnyHandler = (...given: any[]) => any;

interface Around {
  /** @param name of what sets it, with its group: `onHover`, `languages.inlayHint.on` */
  readonly handler: (handler: AnyHandler, name: string) => AnyHandler;
  /** Of each argument of what is sent. */
  readonly sent?: (given: unknown) => unknown;
}

/** Groups of members that set handlers or send, too. */
const GROUPS: ReadonlySet<string> = new Set([
  'workspace',
  'languages',
  'semanticTokens',
  'inlayHint',
  'callHierarchy',
  'typeHierarchy',
  'diagnostics',
]);

export function aroundHandlers<T extends object>(target: T, around: Around, group = ''): T {
  return new Proxy(target, {
    get(_, key) {
      const member: unknown = Reflect.get(target, key, target);
      if (typeof key !== 'string' || member === null || member === undefined) return member;
      if (typeof member === 'object')
        return GROUPS.has(key) ? aroundHandlers(member, around, `${group}${key}.`) : member;
      if (typeof member !== 'function') return member;
      if (/^on/.test(key)) {
        const wrapped = (one: unknown) =>
          typeof one === 'function' ? around.handler(one as AnyHandler, `${group}${key}`) : one;
        return (...given: unknown[]) => member.call(target, ...given.map(wrapped));
      }
      const { sent } = around;
      if (sent !== undefined && /^(?:send|applyEdit)/.test(key))
        return (...given: unknown[]) => member.call(target, ...given.map(sent));
      return member.bind(target);
    },
  });
}
