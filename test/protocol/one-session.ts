import { afterEach } from 'vitest';
import { Session, type SessionOptions } from './session.ts';

/** A starter whose sessions end with each test. */
export function sessions(): (options?: SessionOptions) => Promise<Session> {
  const running: Session[] = [];
  afterEach(async () => {
    for (const session of running.splice(0)) {
      if (session.isRunning) {
        await session.stop();
      }
    }
  });
  return async (options = {}) => {
    const session = await Session.start(options);
    running.push(session);
    return session;
  };
}
