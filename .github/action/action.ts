/** The action: reviews a change, comments on the pull request, hands findings to code scanning, and ends as the review ends. */
import { join } from 'node:path';
import { ReviewComment } from './comment.ts';
import { Forge, networkReason } from './forge.ts';
import { type Reviewed, runReview, uploadFindings } from './review-upload.ts';
import { annotateError, annotateWarning, eventOf, input, NOT_RUN, printLine, summary } from './runner.ts';

const {
  GITHUB_REPOSITORY = '',
  GITHUB_API_URL = 'https://api.github.com',
  GITHUB_GRAPHQL_URL = `${GITHUB_API_URL}/graphql`,
  GITHUB_SERVER_URL = 'https://github.com',
  GITHUB_RUN_ID,
} = process.env;

const command = join(import.meta.dirname, 'bin/fettle.js');

const event = eventOf();
const { pullRequest } = event;
const commit = (pullRequest?.head.sha ?? event.commit).slice(0, 12);
const name = input('name');
const forge = new Forge({ url: GITHUB_API_URL, graphql: GITHUB_GRAPHQL_URL, token: input('token') });
const comment =
  input('comment') === 'true' && pullRequest
    ? new ReviewComment(forge, GITHUB_REPOSITORY, pullRequest.number, name)
    : undefined;

if (/[^\p{L}\p{N} ._-]/u.test(name)) {
  annotateError(`name: letters, digits, blanks, dots, hyphens and underscores, not “${name}”`);
  process.exit(NOT_RUN);
}

// A comment is a courtesy: whatever is in its way (a network, a fork's token that only reads), the run ends as the review ends.
await courteously('an earlier comment could not be marked as out of date', () => comment?.outdate(commit));
const reviewed = await reviewedOrReported();
await courteously('the review could not be written as a comment; it is in the summary of this run', async () => {
  const written = await comment?.write(reviewed?.markdown ?? failed(), reviewed?.isChanged === true);
  if (written === 'no comment' && reviewed) printLine('nothing of Fettle was changed: no comment');
  else if (written) printLine(written);
});
if (input('sarif') === 'true' && reviewed)
  await courteously('the findings could not be handed to code scanning', () => uploadFindings(command, forge, event));
process.exitCode = reviewed?.code ?? NOT_RUN;

async function reviewedOrReported(): Promise<Reviewed | undefined> {
  try {
    return await runReview(command, event);
  } catch (error) {
    annotateError(networkReason(error));
    summary(failed());
    return undefined;
  }
}

/** What replaces a review that is not true any more. */
function failed(): string {
  const run = GITHUB_RUN_ID
    ? `[its run](${GITHUB_SERVER_URL}/${GITHUB_REPOSITORY}/actions/runs/${GITHUB_RUN_ID})`
    : 'its run';
  return `## Not reviewed\n\nThe review of commit ${commit} failed: ${run} shows why. Nothing is known about what it does to the builds.\n`;
}

async function courteously(failure: string, attempt: () => Promise<void> | undefined): Promise<void> {
  try {
    await attempt();
  } catch (error) {
    annotateWarning(`${failure} (${networkReason(error)})`);
  }
}
