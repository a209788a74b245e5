/** The name somebody probably meant. */
import { distance } from 'fastest-levenshtein';

/**
 * Candidates close enough to be worth offering, nearest first, at most `limit`.
 * The same letters in other case come first, then what begins with the word; otherwise up to a third of the letters may differ.
 */
export function nearest(word: string, candidates: Iterable<string>, limit = 3): string[] {
  const lower = word.toLowerCase();
  const allowed = Math.max(1, Math.floor(word.length / 3));
  const scored: { candidate: string; score: number }[] = [];
  for (const candidate of candidates) {
    if (candidate === word) continue;
    if (isBeginning(lower, candidate.toLowerCase())) {
      scored.push({ candidate, score: 0.5 + (candidate.length - word.length) / 100 });
      continue;
    }
    if (Math.abs(candidate.length - word.length) > allowed) continue;
    const sameLetters = candidate.toLowerCase() === lower;
    const score = sameLetters
      ? 0
      : isSwap(lower, candidate.toLowerCase())
        ? 1
        : distance(lower, candidate.toLowerCase());
    // One letter for another is no likeness when there are only one or two.
    if (score <= allowed && (sameLetters || Math.min(word.length, candidate.length) > 2)) {
      scored.push({ candidate, score: score + distance(word, candidate) / 100 });
    }
  }
  scored.sort((left, right) => left.score - right.score || (left.candidate < right.candidate ? -1 : 1));
  return scored.slice(0, limit).map((entry) => entry.candidate);
}

const LEAST_BEGINNING = 4;

/** `motor-over` for `motor-overvoltage`: a few letters are too little, and less than half of a name anything. */
function isBeginning(word: string, candidate: string): boolean {
  return (
    word.length >= LEAST_BEGINNING &&
    candidate.length > word.length &&
    candidate.length <= 2 * word.length &&
    candidate.startsWith(word)
  );
}

/** Two neighbouring letters in each other's place: `vidoe` for `video`. */
function isSwap(word: string, other: string): boolean {
  if (word.length !== other.length) return false;
  const at = [...word].findIndex((letter, index) => letter !== other[index]);
  return at >= 0 && word.slice(0, at) + word[at + 1] + word[at] + word.slice(at + 2) === other;
}
