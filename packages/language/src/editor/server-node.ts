import { answersInThread } from './committed/review-thread.ts';
import { startNodeServer } from './node-connection.ts';

if (!answersInThread()) startNodeServer();
