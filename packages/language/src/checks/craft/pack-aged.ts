/** A pack resists twice as much as it did. */
import { agedOf, packOverDays } from '../../analysis/learn/ageing.ts';
import { formatPair } from '../../units/print.ts';
import type { BuildSubject, Check, Draft } from '../check.ts';
import { exactNumber, formatExact, percent } from '../shared/finding-numbers.ts';
import { THRESHOLDS } from '../thresholds.ts';

const { times } = THRESHOLDS.packAged;

export const packAged: Check = {
  id: 'pack-aged',
  atMost: 'hint',
  build: findAged,
  page: {
    title: 'A pack has aged',
    cause:
      'The resistance of a pack grows as it is flown and stored. With twice the resistance it falls twice as far under load, warms twice as much, and the charge that it gives in flight shrinks.',
    criterion: `of two dated observations (\`on\`) of one pack the later shows at least ${times} times the resistance of a cell, both at 20 °C, and surely more than the earlier (k = 2): hint. Resistance is \`cell_resistance\`, else that which follows from \`burst_voltage\` and \`burst_current\` of a full burst.`,
    standing: 'Common practice: at twice the resistance of the new pack it is kept for light loads or retired.',
    remedy: 'Fly it where little current is drawn, measure its capacity, and replace it before it swells.',
    fixes: [],
    fails: `build Old like Healthy {
  observed "first charge" with Mast900_4S {
    on: 2026-03-12
    cell_resistance: 9.6 mohm at 20 degC
  }
  observed "last charge" with Mast900_4S {
    on: 2026-10-04
    cell_resistance: 19.8 mohm at 20 degC
  }
}`,
    passes: `build Young like Healthy {
  observed "first charge" with Mast900_4S {
    on: 2026-03-12
    cell_resistance: 9.6 mohm at 20 degC
  }
  observed "last charge" with Mast900_4S {
    on: 2026-10-04
    cell_resistance: 11.2 mohm at 20 degC
  }
}`,
  },
};

function* findAged({ build }: BuildSubject): Iterable<Draft> {
  const own = new Set(build.observations.map(({ part }) => part.day('on')));
  for (const option of build.packs) {
    const { part, name } = option;
    const { first, last } = agedOf(packOverDays(build, part)) ?? {};
    // It is reported where the last reading is written.
    if (!first || !last || last.resistance < times * first.resistance || !own.has(last.day)) continue;
    const apart = formatPair(first.resistance, last.resistance, 'mohm');
    yield {
      severity: 'hint',
      message: `${name} has aged: ${apart} a cell from ${first.day} to ${last.day}, ${percent(last.resistance / first.resistance)} of what it was. It sags farther and warms more for it.`,
      names: [option],
      place: last.place,
      numbers: [exactNumber('resistance', last.resistance, 'mohm'), exactNumber('before', first.resistance, 'mohm')],
      related: [{ message: `${formatExact(first.resistance, 'mohm')} on ${first.day}`, place: first.place }],
    };
  }
}
