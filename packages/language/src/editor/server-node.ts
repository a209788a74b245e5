import { startNodeServer } from './node.ts';

startNodeServer();
