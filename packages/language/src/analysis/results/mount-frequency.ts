/** Mount frequency. */
import type { Use } from '../../model/build.ts';
import { ofFigure, several } from '../explain/derivation-terms.ts';
import type { DerivationTerm } from '../explain/explanation.ts';
import { softestMount } from '../setup/optional.ts';
import { VIBRATION_SOURCE } from './explaining.ts';
import { fromSetup } from './reading.ts';
import type { ResultComputation } from './result.ts';

const massOf = ({ part, count }: Use): DerivationTerm | undefined => {
  const mass = ofFigure('m', part.figure('mass'));
  return mass && several(mass, count);
};

export const mountFrequency: ResultComputation = {
  needs: ['mount'],
  of: fromSetup(({ mount }) => mount?.frequency),
  explain: ({ build }) => {
    const { mount, load } = softestMount(build.loads) ?? {};
    const [tapped, sag] = [mount?.figure('frequency'), mount?.figure('sag')];
    return {
      formula: tapped ? 'f = f_tap' : sag ? 'f = √(g/s) / 2π' : 'f = √(k/m) / 2π',
      description:
        'Natural frequency of the softest mount: as measured, from its sag under the load, or from stiffness and load.',
      terms: tapped
        ? [ofFigure('f_tap', tapped)]
        : sag
          ? [ofFigure('s', sag)]
          : [ofFigure('k', mount?.figure('stiffness')), load && massOf(load)],
      source: VIBRATION_SOURCE,
    };
  },
};
