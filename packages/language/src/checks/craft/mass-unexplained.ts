/** The scale and the list of parts do not agree. */
import { assess, setAsideOn } from '../../analysis/assess.ts';
import { OUTLYING } from '../../analysis/learn/contradiction.ts';
import { beforeObserving } from '../../analysis/learn/learn.ts';
import { packsObserved } from '../../analysis/learn/observed-lines.ts';
import { expanded, standardUncertainty } from '../../analysis/uncertainty/estimate.ts';
import type { Observation } from '../../model/build.ts';
import { deviationOf, plusMinusOf } from '../../units/interval.ts';
import { stepsOf } from '../../units/print.ts';
import type { BuildSubject, Check, Draft } from '../check.ts';
import { heaviest } from '../shared/contributing.ts';
import { number } from '../shared/finding-numbers.ts';
import { THRESHOLDS } from '../thresholds.ts';

const { mass: leastMass, share } = THRESHOLDS.massUnexplained;

export const massUnexplained: Check = {
  id: 'mass-unexplained',
  atMost: 'warning',
  build: findUnexplained,
  page: {
    title: 'The scale and the list of parts do not agree',
    cause:
      'The craft has a part that no line lists, or a part weighs something other than its data sheet states. Every flight time and limit computed from the list is then wrong too.',
    criterion: `\`scale\` of an \`observed\` block differs from the computed all-up weight by more than both three standard deviations and the larger of ${leastMass * 1e3} g and ${share * 100} %: warning.`,
    standing: 'Thresholds: ours.',
    remedy: 'Weigh the parts one by one and correct them, or add what is missing as an `item`.',
    fixes: [],
    fails: `build Odd like Healthy {
  observed "bench scale" with Mast900_4S {
    scale: 331 g
  }
}`,
    passes: `build Even like Healthy {
  observed "bench scale" with Mast900_4S {
    scale: 291 g
  }
}`,
  },
};

function* findUnexplained(subject: BuildSubject): Iterable<Draft> {
  for (const { observation, option } of packsObserved(subject.build)) {
    const predicted = assess(beforeObserving(subject.build), option);
    const scale = observation.part.declared('scale');
    // A reading that the list cannot explain takes its place elsewhere; here the two are compared.
    const computed = predicted.results.get('all_up_weight')?.estimate;
    if (!scale || !computed || isSetAside(subject, observation)) continue;
    const difference = scale.value - computed.value;
    const plusMinus = plusMinusOf(Math.hypot(scale.standardUncertainty, standardUncertainty(computed)));
    const allowed = Math.max(OUTLYING * deviationOf(plusMinus), leastMass, share * scale.value);
    if (Math.abs(difference) <= allowed) continue;
    const cause =
      difference > 0
        ? 'The craft has something that no line lists (leads, solder, straps, antennas), or a part weighs more than its data sheet states.'
        : 'A part weighs less than its data sheet states, or a line lists something that was not on the craft when it was weighed. What was added since is not in the results: weigh it again.';
    const own = expanded(computed);
    const steps = stepsOf('g', [{ value: difference, halfWidth: own }]);
    const apart = steps.apart(computed.value, scale.value);
    yield {
      severity: 'warning',
      message: `The scale reads ${steps.level(scale.value)}, the list ${steps.level(computed.value, own)}: ${apart} ${difference > 0 ? 'more' : 'less'} than it explains. ${cause}`,
      names: [],
      place: scale.place ?? observation.place,
      numbers: [
        { name: 'difference', value: Math.abs(difference), unit: 'g', plusMinus },
        number('all_up_weight', computed, 'g'),
      ],
      related: heaviest(predicted),
    };
  }
}

/** A digit too many is reported as that. */
const isSetAside = ({ build }: BuildSubject, { id }: Observation): boolean =>
  setAsideOn(build).some(({ line: { source, reading } }) => source === id && reading === 'scale');
