import { isOperationCancelled } from 'langium';
import { ResponseError } from 'vscode-languageserver-protocol';

/**
 * The same provider, but what it throws is reported in the client's log before the request is answered with an error. Refusals meant for the
 * person (a name that is taken) are answers, no mistakes.
 */
export function reporting<T extends object>(provider: T): T {
  return new Proxy(provider, {
    get(target, key) {
      const member: unknown = Reflect.get(target, key, target);
      if (typeof member !== 'function') return member;
      return (...given: unknown[]): unknown => {
        const failed = (error: unknown): never => {
          if (!(error instanceof ResponseError) && !isOperationCancelled(error)) {
            console.error(`Internal error in ${target.constructor.name}.${String(key)}:`, error);
          }
          throw error;
        };
        try {
          const answer: unknown = member.apply(target, given);
          return answer instanceof Promise ? answer.catch(failed) : answer;
        } catch (error) {
          return failed(error);
        }
      };
    },
  });
}
