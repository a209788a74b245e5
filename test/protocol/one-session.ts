import { afterAll, afterEach, beforeAll } from 'vitest';
import { Session, type SessionOptions } from './session.ts';

/** A starter whose sessions end with each test; they may have something in common. */
export function sessions(common: SessionOptions = {}): (options?: SessionOptions) => Promise<Session> {
  const running: Session[] = [];
  afterEach(async () => {
    for (const session of running.splice(0)) {
      if (session.isRunning) await session.stop();
    }
  });
  return async (options = {}) => {
    const session = await Session.start({ ...common, ...options });
    running.push(session);
    return session;
  };
}

/** One session for a whole file of tests; what a test opens is closed behind it. */
export function sharedSession(options: SessionOptions): () => Session {
  let session: Session;
  beforeAll(async () => {
    session = await Session.start(options);
  });
  afterEach(() => session.closeAll());
  afterAll(() => session.stop());
  return () => session;
}
