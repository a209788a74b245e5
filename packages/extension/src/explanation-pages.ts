import { SHOW_EXPLANATION } from '../../language/src/editor/requests/protocol.ts';
import type { AnswerPages } from './answer-pages.ts';
import { asSubject, fieldsOf } from './sheet/view-messages.ts';

interface Explained {
  readonly uri: string;
  readonly build: string;
  readonly pack?: string;
  readonly result: string;
}

/** How a result came about. */
export const EXPLANATIONS: AnswerPages<Explained> = {
  scheme: 'fettle-explanation',
  command: SHOW_EXPLANATION,
  ask: 'fettle.explain',
  meant: asExplained,
  read: asExplained,
  title: ({ build, pack, result }) => `${result} of ${build}${pack === undefined ? '' : ` on ${pack}`}`,
  otherwise: 'Nothing to explain',
};

function asExplained(value: unknown): Explained | undefined {
  const subject = asSubject(value);
  const { pack, result } = fieldsOf(value);
  if (subject === undefined || typeof result !== 'string') return undefined;
  return { ...subject, result, ...(typeof pack === 'string' && { pack }) };
}
