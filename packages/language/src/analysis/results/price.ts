/** Price. */
import { boughtFor, priceOf } from '../setup/price-sum.ts';
import { exact } from '../uncertainty/estimate.ts';
import { derivedFrom, type ResultComputation } from './result.ts';

export const price: ResultComputation = {
  needs: [],
  /** It takes no physics, and has no ±. */
  of: derivedFrom([], (_, { build, option }) => {
    const sum = priceOf(build, option);
    return 'value' in sum ? { estimate: exact(sum.value), unit: sum.currency } : sum;
  }),
  explain: ({ build, option }) => ({
    formula: 'p = Σ count·price',
    description: 'The sum of what the parts cost that are on board, the pack and the spares, as they state it.',
    terms: boughtFor(build, option).map(({ part, count }, i) => {
      const figure = part.declared('price');
      return (
        figure && {
          symbol: `p_${i + 1}`,
          label: `${count} x ${part.name}`,
          value: count * figure.value,
          unit: figure.unit,
          ...(figure.place && { place: figure.place }),
        }
      );
    }),
    source: 'a sum; currencies are not converted',
    neglects: 'postage, and what is bought in packs that are not used up',
  }),
};
