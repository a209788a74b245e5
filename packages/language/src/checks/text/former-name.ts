import type { TextCheck } from './text-check.ts';

export const formerName: TextCheck = {
  id: 'former-name',
  severity: 'hint',
  page: {
    title: 'A name that the language had before',
    cause: 'It is still understood, and readers look for the present one.',
    criterion: 'Read from the text alone.',
    standing: 'The language.',
    remedy: 'Take the fix: it writes the present name.',
    fails: `motor Old like M1805 {
  heat_path: 20 K/W
}`,
    passes: `motor New like M1805 {
  thermal_resistance: 20 K/W
}`,
  },
};
