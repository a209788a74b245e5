/** A thread of `choose-threads.ts`: makes the candidates anew, and judges one lot after the other. */

import { parentPort, workerData } from 'node:worker_threads';
import { judgeLot } from '../report/decide/judging.ts';
import { messageOf } from '../syntax/thrown.ts';
import { spaceOf } from '../trial/candidates.ts';
import { type ChooseRequest, openAsked } from './choose-asked.ts';
import type { FromThread, LotOfCandidates } from './choose-threads.ts';

const send = (message: FromThread): void => parentPort?.postMessage(message);

try {
  const { services, document, node } = await openAsked(workerData as ChooseRequest);
  const space = await spaceOf(services, document, node);
  parentPort?.on('message', ({ number, from, to }: LotOfCandidates) =>
    send({ number, lot: judgeLot(space, from, to) }),
  );
  send({ count: space.count });
} catch (error) {
  send({ refused: messageOf(error) });
}
