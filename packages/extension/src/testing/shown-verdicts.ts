import { Location, type TestItem, TestMessage, type TestRun, workspace } from 'vscode';
import { type JudgedItem, rootOf, UNREAD } from './tree.ts';

/**
 * Three verdicts, three signs: passed holds even at the near end of the ±, failed fails even at its near end, and what the ± leaves open is
 * skipped, with the way it leans. A requirement without numbers is an error; what cannot be judged at present is skipped, so that no tick
 * of an earlier text stays at it.
 */
export function showVerdict(run: TestRun, judged: JudgedItem): void {
  const { item, on, whyNot = UNREAD } = judged;
  const message = on?.message ?? whyNot;
  const isOpen = on?.verdict === 'likely holds' || on?.verdict === 'likely fails';
  item.description = isOpen ? `${on.verdict}: ${message}` : (on?.shortMessage ?? message);
  const line = `${subjectOf(item)}: ${item.label}: ${on?.verdict ?? 'open'}: ${message}`;
  run.appendOutput(`${withoutControls(line)}\r\n`, undefined, item);
  switch (on?.verdict) {
    case 'holds':
      run.passed(item);
      break;
    case 'fails':
      run.failed(item, failure(judged, message));
      break;
    case 'cannot be judged':
      run.errored(item, failure(judged, message));
      break;
    default:
      run.skipped(item);
  }
}

function failure({ item, errors = [], because, inherited }: JudgedItem, message: string): TestMessage {
  const lines = [
    `${subjectOf(item)}: ${message}`,
    ...errors,
    ...(because === undefined ? [] : [`because ${because}`]),
    ...(inherited ? [`required at ${workspace.asRelativePath(inherited.uri)}:${inherited.range.start.line + 1}`] : []),
  ];
  const reported = new TestMessage(lines.join('\n'));
  if (item.uri && item.range) reported.location = new Location(item.uri, item.range);
  return reported;
}

/** `Spire on Mast1050_4S`. */
const subjectOf = (item: TestItem): string => `${rootOf(item).label} ${item.parent?.label ?? ''}`;

/** The output is a terminal, and a title may state anything. */
const withoutControls = (text: string): string => text.replace(/\p{Cc}/gu, ' ');
