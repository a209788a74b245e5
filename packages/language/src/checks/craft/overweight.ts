/** Heavier than a requirement allows. */
import type { Check, Draft, OptionSubject } from '../check.ts';
import { formatExact, number } from '../shared/finding-numbers.ts';
import {
  decidingRails,
  decidingWords,
  failedOf,
  type JudgedRequirement,
  requirementDraft,
} from '../shared/judged-requirements.ts';

export const overweight: Check = {
  id: 'overweight',
  option: findOverweight,
  page: {
    title: 'It weighs more than required',
    cause:
      'A requirement limits the all-up weight, and the parts with this pack add up to more. Ready to fly, a craft weighs up to 4 % more than its listed parts (common practice): solder, wire, screws and tape count. They are included as 2 ± 2 % of the dry mass, or as you list them.',
    criterion: 'a `require` that limits `all_up_weight` fails: error; likely fails: warning.',
    standing:
      'The build’s own requirement or its rules. What may be flown where is a local rule; this checks the number only.',
    remedy: 'A lighter pack or part, or a requirement that fits the craft.',
    fixes: [],
    fails: `build Portly like Healthy {
  require all_up_weight <= 240 g
}`,
    passes: `build Slender like Healthy {
  require all_up_weight <= 340 g
}`,
  },
};

function* findOverweight(subject: OptionSubject): Iterable<Draft> {
  for (const one of failedOf(subject, 'overweight')) {
    yield {
      ...requirementDraft(subject, one, { severity: one.severity, ...sentence(subject, one) }),
      numbers: weight(subject),
    };
  }
}

function sentence(subject: OptionSubject, { verdict }: JudgedRequirement): Pick<Draft, 'message' | 'names'> {
  const { option, assessment } = subject;
  const likely = verdict.outcome === 'fails' ? 'It is' : 'It is likely';
  const heaviest = assessment.masses.toSorted((a, b) => b.mass.value - a.mass.value).slice(0, 3);
  const masses = heaviest.map(({ label, mass }) => `${label} ${formatExact(mass.value, 'g')}`);
  return {
    message: `${likely} too heavy with ${option.name}: ${decidingWords(verdict)}. Most of it: ${masses.join(', ')}.`,
    names: [option, ...decidingRails(subject, verdict), ...heaviest.flatMap(({ of }) => of ?? [])],
  };
}

function weight({ assessment }: OptionSubject): Draft['numbers'] {
  const estimate = assessment.results.get('all_up_weight')?.estimate;
  return estimate ? [number('all_up_weight', estimate, 'g')] : [];
}
