import { answersInThread } from './committed/thread.ts';
import { startNodeServer } from './node.ts';

if (!answersInThread()) startNodeServer();
