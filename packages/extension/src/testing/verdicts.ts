import { Location, type TestItem, TestMessage, type TestRun } from 'vscode';
import { type Judged, rootOf } from './tree.ts';

const UNREAD = 'not judged: a line cannot be read yet';

/**
 * Three verdicts, three signs: passed holds even at the near end of the ±, failed fails even at its near end, and what the ± leaves open is
 * skipped, with the way it leans. What has no numbers is an error.
 */
export function tell(run: TestRun, { item, on, because }: Judged): void {
  const message = on?.message ?? UNREAD;
  item.description = on?.verdict.startsWith('likely') ? `${on.verdict}: ${message}` : message;
  const line = `${subjectOf(item)}: ${item.label}: ${on?.verdict ?? 'open'}: ${message}`;
  run.appendOutput(`${withoutControls(line)}\r\n`, placeOf(item), item);
  switch (on?.verdict) {
    case 'holds':
      run.passed(item);
      break;
    case 'fails':
      run.failed(item, atItem(item, because === undefined ? message : `${message}\nbecause ${because}`));
      break;
    case 'cannot be judged':
      run.errored(item, atItem(item, message));
      break;
    default:
      run.skipped(item);
  }
}

/** Several builds fail at the same line of their rules: each says who it is. */
function atItem(item: TestItem, message: string): TestMessage {
  const told = new TestMessage(`${subjectOf(item)}: ${message}`);
  const place = placeOf(item);
  if (place) told.location = place;
  return told;
}

const placeOf = ({ uri, range }: TestItem): Location | undefined => uri && range && new Location(uri, range);

/** `Rafter on Slim480_2S`. */
const subjectOf = (item: TestItem): string => `${rootOf(item).label} ${item.parent?.label ?? ''}`;

/** The output is a terminal, and a title may say anything. */
const withoutControls = (text: string): string => text.replace(/\p{Cc}/gu, ' ');
