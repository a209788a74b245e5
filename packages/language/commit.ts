/** What is built: a commit, and whether files differ from it. */
import { spawnSync } from 'node:child_process';

/** @returns eight digits, with `.changed` behind them when a file under version control differs; nothing outside of git. */
export function commitOf(folder: string): string | undefined {
  const git = (...args: string[]): string | undefined => {
    const { status, stdout } = spawnSync('git', args, { cwd: folder, encoding: 'utf8' });
    return status === 0 ? stdout.trim() : undefined;
  };
  // A folder that only lies inside of somebody's repository is none of its files.
  const isTracked = git('ls-files', '--error-unmatch', 'package.json') !== undefined;
  const commit = isTracked ? git('rev-parse', 'HEAD')?.slice(0, 8) : undefined;
  return commit && git('status', '--porcelain', '--untracked-files=no') !== '' ? `${commit}.changed` : commit;
}
