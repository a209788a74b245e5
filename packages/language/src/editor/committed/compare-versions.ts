/** Compares the saved files with a commit. Runs in a thread of its own. */
import { createHash } from 'node:crypto';
import { realpathSync } from 'node:fs';
import { join, relative, sep } from 'node:path';
import { lineOf } from '../../report/review/change-line.ts';
import { CannotReview } from '../../report/review/git-run.ts';
import { requestOf } from '../../report/review/request.ts';
import { type Request, review } from '../../report/review/review.ts';
import { reviewMarkdown } from '../../report/review/review-markdown.ts';

export interface VersionsToCompare {
  /** Builds below it are compared. */
  readonly folder: string;
  readonly base: string;
  /** The key of an answer that is still at hand. */
  readonly known?: string;
}

export interface CommittedComparison {
  readonly base: { readonly name: string; readonly commit: string };
  /** What `fettle review` prints. */
  readonly markdown: string;
  /** Builds with something to report. */
  readonly builds: readonly {
    /** From the requested folder, with `/`. */
    readonly path: string;
    readonly build: string;
    readonly line: string;
  }[];
}

export type ComparedVersions =
  /** `key` names the commit and the contents of the files; without a comparison the known one is still valid. */
  | { readonly key: string; readonly comparison?: CommittedComparison; readonly refused?: undefined }
  /** Why nothing can be compared, for the user. */
  | { readonly refused: string };

export async function compareWithCommit({ folder, base, known }: VersionsToCompare): Promise<ComparedVersions> {
  try {
    const request = await requestOf({ folder, paths: ['.'], base });
    const key = keyOf(request);
    return key === known ? { key } : { key, comparison: await comparisonOf(request, realpathSync(folder)) };
  } catch (error) {
    if (error instanceof CannotReview) return { refused: error.message };
    throw error;
  }
}

function keyOf({ root, base, head }: Request): string {
  const hash = createHash('sha256').update(`${root.fsPath}\0${base.commit}\0`);
  for (const [path, bytes] of head.tree.files) hash.update(`${path}\0${bytes.length}\0`).update(bytes);
  return hash.digest('hex');
}

async function comparisonOf(request: Request, folder: string): Promise<CommittedComparison> {
  const found = await review(request);
  const { name, commit = '' } = found.base;
  return {
    base: { name, commit },
    markdown: reviewMarkdown(found),
    builds: found.builds.flatMap((build) => {
      const line = lineOf(build);
      const path = relative(folder, join(request.root.fsPath, found.pathOf(build.uri)));
      return line === undefined ? [] : [{ path: path.split(sep).join('/'), build: build.name, line }];
    }),
  };
}
