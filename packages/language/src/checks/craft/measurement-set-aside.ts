/** What was measured and cannot be: nothing is learnt from it, and nobody has to find out by the results. */
import { setAsideOn } from '../../analysis/assess.ts';
import { packsObserved } from '../../analysis/learn/observed-lines.ts';
import { IMPLAUSIBLE, type SetAside } from '../../analysis/learn/set-aside.ts';
import { standId } from '../../analysis/learn/stand-lines.ts';
import type { Build } from '../../model/build.ts';
import type { BuildSubject, Check, Draft } from '../check.ts';
import { exactNumber, formatExact } from '../shared/finding-numbers.ts';
import { isOwnLine } from '../shared/observations.ts';
import { setAsideWords } from '../shared/set-aside-words.ts';

export const measurementSetAside: Check = {
  id: 'measurement-set-aside',
  build: findSetAside,
  page: {
    title: 'A measurement cannot be right and is left out',
    cause:
      'A unit ten or a thousand times out, a value of another column, a log that was recorded on the ground: learnt from, it would move every build that shares a part.',
    criterion: `a reading lies more than ${IMPLAUSIBLE} standard deviations off what the figures of the parts make of it (a share by 25 points, volts by 15 %, a weight by a factor of 2, a cell’s resistance by one of 5, all else by one of 2.5 at least); or a current, or a charge over its time, is less than 0.8 of what moving the air takes of an ideal rotor at that weight and more than four off: warning at the line, and information at each build that would have learnt from it. Of a row of a stand all readings are set aside, where most rows are off only that column, and where several columns or most rows are, all of them; of a log all of it, where its volts or amperes are.`,
    standing: `A sound craft has a reading ${IMPLAUSIBLE} standard deviations off once in five hundred million, and were each ± half of what it should be, once in 370; parts four off their page are learnt as any other. Momentum theory for the least power; other thresholds: ours.`,
    remedy:
      'Correct the line: the message states what it should be about. If it is right, correct the figure of the part that contradicts it.',
    fixes: [],
    fails: `build Slipped like Healthy {
  observed "granary" with Mast900_4S {
    hover_current: 44 A at 60 %
  }
}`,
    passes: `build Read like Healthy {
  observed "granary" with Mast900_4S {
    hover_current: 4.4 A at 60 %
  }
}`,
  },
};

function* findSetAside({ build }: BuildSubject): Iterable<Draft> {
  const aside = setAsideOn(build);
  const own = aside.filter(({ line }) => isOwnLine(build, line));
  for (const one of own) {
    const { line, expected } = one;
    // Rows of one stand in one message.
    const rows = own.filter((other) => other.what === 'row' && other.line.source === line.source);
    if (rows.includes(one) && one !== rows[0]) continue;
    yield {
      severity: 'warning',
      message: setAsideWords(
        one,
        rows.flatMap((other) => other.line.row ?? []).sort((a, b) => a - b),
      ),
      names: [],
      place: line.place,
      numbers: [exactNumber('read', line.value, line.unit), exactNumber('expected', expected, line.unit)],
      related: measuredOn(build, one),
    };
  }
  const others = aside.filter((one) => !own.includes(one));
  const [first] = others;
  if (first) yield elsewhere(first, others, build.place);
}

/** The pack that was flown, or what was on the stand. */
function measuredOn(build: Build, { line }: SetAside): NonNullable<Draft['related']> {
  const flown = packsObserved(build).find(({ observation }) => observation.id === line.source);
  if (flown) return [{ message: `flown with ${flown.option.name}`, place: flown.option.place }];
  const stand = build.benches.find((bench) => standId(bench) === line.source);
  const propeller = stand?.part.part('propeller');
  return propeller ? [{ message: `measured with ${propeller.name}`, place: propeller.place }] : [];
}

const elsewhere = (first: SetAside, others: readonly SetAside[], place: Draft['place']): Draft => ({
  severity: 'information',
  message: `Nothing is learnt here from ${first.line.label}, ${formatExact(first.line.value, first.line.unit)}: it was measured on a craft that shares parts with this one, and is set aside there.`,
  names: [],
  place,
  numbers: [exactNumber('read', first.line.value, first.line.unit)],
  related: others.map(({ line, expected }) => ({
    message: `${line.label}: ${formatExact(line.value, line.unit)}, where about ${formatExact(expected, line.unit)} is expected`,
    place: line.place,
  })),
});
