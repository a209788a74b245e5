/** The folder of a session as a git repository. */
import { spawnSync } from 'node:child_process';
import { expect } from 'vitest';
import type { Session } from './session.ts';

export function git(session: Session, ...args: string[]): void {
  const who = ['-c', 'user.name=Warden', '-c', 'user.email=warden@example.org', '-c', 'commit.gpgsign=false'];
  const { status, stderr } = spawnSync('git', [...who, ...args], { cwd: session.folder, encoding: 'utf8' });
  expect(status, stderr).toBe(0);
}

export function commit(session: Session): void {
  git(session, 'add', '--all');
  git(session, 'commit', '-q', '--allow-empty', '-m', 'change');
}

/** With all files of the folder in the first commit. */
export function begin(session: Session): void {
  git(session, 'init', '-q', '-b', 'main');
  commit(session);
}
