import pc from 'picocolors';
import { version } from '../report/present/version.ts';
import { CannotReview } from '../report/review/git-run.ts';
import { isFailing, type ReviewFailure } from '../report/review/gravity.ts';
import { requestOf } from '../report/review/request.ts';
import { review } from '../report/review/review.ts';
import { reviewJson } from '../report/review/review-json.ts';
import { reviewMarkdown } from '../report/review/review-markdown.ts';
import { reviewSarif } from '../report/review/review-sarif.ts';
import { reviewText } from '../report/review/review-text.ts';
import type { ReviewFormat } from './formats.ts';
import { COULD_NOT_RUN, complain, Refusal } from './refuse.ts';

export interface ReviewOptions {
  readonly base: string;
  /** A revision; the working tree when none is named. */
  readonly head?: string;
  /** Compare with the base itself, not with where the work parted from it. */
  readonly direct?: boolean;
  /** What is staged instead of the working tree. */
  readonly staged?: boolean;
  readonly format: ReviewFormat;
  readonly failOn: readonly ReviewFailure[];
}

/** Prints what a change does to the builds below `paths`; returns the exit code. */
export async function reviewChange(paths: readonly string[], options: ReviewOptions): Promise<number> {
  try {
    const request = await requestOf({ ...options, folder: process.cwd(), paths, fromNothing: true });
    const found = await review(request);
    const print = {
      json: reviewJson,
      markdown: reviewMarkdown,
      sarif: (of: typeof found) => reviewSarif(of, version),
      text: (of: typeof found) => reviewText(of, pc.createColors(pc.isColorSupported && process.stdout.isTTY)),
    }[options.format];
    process.stdout.write(print(found));
    for (const { path, message } of found.failures) complain(`${path}: ${message}`);
    if (found.failures.length > 0) return COULD_NOT_RUN;
    return options.failOn.some((on) => isFailing(found, on)) ? 1 : 0;
  } catch (error) {
    if (error instanceof CannotReview) throw new Refusal(error.message);
    throw error;
  }
}
