/** Verdicts on requirements in words. */
import type { ConditionVerdict } from '../../analysis/decide/requirements.ts';

export type VerdictWords = 'holds' | 'likely holds' | 'likely fails' | 'fails' | 'cannot be judged';

/** Both sides in numbers, or why there are none. */
export function wordsOfVerdict({ comparisons, missing, problems }: ConditionVerdict): string[] {
  return [
    ...comparisons.map(({ words }) => words),
    ...missing.map(({ name, reason }) => `${name}: ${reason}`),
    ...problems.map(({ message }) => message),
  ];
}

export function verdictText({ outcome, leaning }: ConditionVerdict): VerdictWords {
  switch (outcome) {
    case 'holds':
      return 'holds';
    case 'fails':
      return 'fails';
    case 'unsure':
      return leaning === 'holds' ? 'likely holds' : 'likely fails';
    case 'unknown':
      return 'cannot be judged';
  }
}
