/** Dry mass. */
import type { Assessment } from '../assessment.ts';
import { counted, ofFigure } from '../explain/derivation-terms.ts';
import { isReadOffScale, massLines } from '../setup/mass.ts';
import { STATICS, sinceWeighed } from './explaining.ts';
import { fromSetup } from './reading.ts';
import type { ResultComputation } from './result.ts';

function statesDryMass(assessment: Assessment): string {
  if (assessment.build.dryMass) return `${sinceWeighed(assessment) ?? 'Weighed without a pack'}.`;
  return isReadOffScale(assessment.build, assessment.option)
    ? 'Weighed ready to fly, less the pack that was on it.'
    : 'The sum of all parts of the build but the pack, and small things.';
}

export const dryMass: ResultComputation = {
  needs: ['dryMass'],
  of: fromSetup(({ dryMass }) => dryMass),
  explain: (assessment) => ({
    formula: 'm_d = Σ n·m_i',
    description: statesDryMass(assessment),
    // As stated or estimated, but for what follows from the others: what was learnt of each is put in with what it was before.
    terms: massLines(assessment.build, assessment.option)
      .map((line, i) => (line.place ? line : (assessment.masses[i] ?? line)))
      .filter(({ label }) => label !== assessment.option.part.name)
      .map(({ label, count, mass }) => {
        const term = ofFigure(counted(count, label), mass);
        return term && { ...term, count };
      }),
    source: STATICS,
  }),
};
