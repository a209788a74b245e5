/** The reference page of what is learnt from what was measured: its numbers are those of the code. */
import { markdownTable } from './page-table.ts';
import { GROWTH_PER_YEAR } from './src/analysis/learn/ageing.ts';
import { GROWS_OVER, OUTLYING } from './src/analysis/learn/contradiction.ts';
import { INSTRUMENTS, READING_NAMES, READINGS } from './src/analysis/learn/flight-readings.ts';
import { ROUNDS } from './src/analysis/learn/gauss-newton.ts';
import { ALIKE_IN_WARMTH, SLOW_SAG, STATED_CHARGE } from './src/analysis/learn/observed-lines.ts';
import { IMPLAUSIBLE } from './src/analysis/learn/set-aside.ts';
import { STAND_READINGS, STAND_SCALES } from './src/analysis/learn/stand-lines.ts';
import { FARTHER } from './src/analysis/learn/taught.ts';
import { AMPLITUDE } from './src/analysis/setup/course.ts';
import { KNOTS } from './src/physics/coefficient-course.ts';
import { deviationOf } from './src/units/interval.ts';
import { schemaOf } from './src/vocabulary/properties.ts';

export function share(number: number): string {
  return `${Number((100 * number).toPrecision(3))} %`;
}

/** One standard deviation of a reading as such instruments are, where its line states no ±. */
function usual(reading: string): number {
  const stated = schemaOf('observed').properties[reading]?.tolerance?.stated;
  if (!stated) return 0;
  return deviationOf('relative' in stated ? stated.relative : stated.absolute / 100);
}

export function learningPage(): string {
  const sharing = (instrument: keyof typeof INSTRUMENTS) =>
    READING_NAMES.filter((reading) => READINGS[reading].instrument === instrument)
      .map((reading) => `\`${reading}\``)
      .join(', ');
  const flights = Object.entries(READINGS).map(([reading, { words, alike, isPlain }]) => [
    `\`${reading}\``,
    words,
    share(usual(reading)),
    share(alike),
    isPlain ? 'of full' : 'of the value',
  ]);
  const rows = Object.entries(STAND_READINGS).map(([reading, { error, isPlain }]) => [
    `\`${reading}\``,
    share(error),
    isPlain ? 'of full' : 'of the value',
  ]);
  const burst = (value: number) => share(value * Math.exp(-2 / SLOW_SAG.seconds));
  return [
    '# What is learnt from what was measured',
    'Every line that was measured about a build is taken into one fit together with the figures of its parts, each with its ±. The fit finds the figures that go best with all of them, and how well these are known then.',
    [
      '- **Each line counts once**, whatever it is written in: the lines of the build’s own `observed` blocks and logs, and of the builds that it is like; those of other builds in its folder, or in what its file opens, that share a motor, a propeller or a pack with it; the rows of stands about its propellers.',
      '- **Lines that agree narrow the ±.** Readings of one instrument share its error, so that five of them narrow it hardly more than one.',
      '- **A part that differs from its page is corrected**, however far off it is, and named ([estimate-gives-way](findings/estimate-gives-way.md)).',
      '- **Measurements that contradict each other** are reported ([observed-disagrees](findings/observed-disagrees.md)), none is left out, and each ± grows until it includes both sides.',
      `- **What cannot be right** is set aside before the fit and reported ([measurement-set-aside](findings/measurement-set-aside.md)): more than ${IMPLAUSIBLE} standard deviations from what the figures of the parts predict and grossly off, or less power than moving the air takes.`,
    ].join('\n'),
    'All errors below are one standard deviation, relative unless stated otherwise; a printed ± is two of them. Numbers without a source are ours, from simulated craft.',
    '## Instruments',
    'The error of a reading has three parts: the reading itself; the day (air, warmth of pack and windings, charge), which all readings of that flight share; and the instrument, which all its readings share. A ± that a line states takes the place of its instrument’s.',
    markdownTable(
      ['instrument', 'lines', 'its own error', 'what it teaches'],
      [
        ['scale', '`scale`', 'none beside the reading', 'mass, of all packs'],
        ['charger, count', sharing('charger'), share(INSTRUMENTS.charger), 'mean power as flown'],
        [
          'charger, resistance',
          '`cell_resistance`',
          'none beside the reading',
          'resistance of the pack; in a `2P` pack of the group',
        ],
        [
          'recorder, amperes',
          sharing('current'),
          share(INSTRUMENTS.current),
          'power, and with a charger its own error',
        ],
        ['recorder, volts', sharing('voltage'), share(INSTRUMENTS.voltage), 'sag, and so resistance'],
        ['voltmeter', '`rested`', 'none beside the reading', 'charge that the pack delivers'],
        [
          'recorder, output and speed',
          '`hover_output`, `hover_speed`, `burst_speed`',
          'none beside the reading',
          'duty, and C_T by the speed',
        ],
        ['stand, amperes and watts', '`current`, `power`', share(STAND_SCALES.current), 'shaft power, losses'],
        ['stand, thrust', '`thrust`', `${share(STAND_SCALES.thrust)}, also from one specimen to another`, 'C_T'],
        [
          'stand, speed, torque and duty',
          '`speed`, `torque`, `duty`',
          'none beside the reading',
          'kv, and with torque C_P by itself',
        ],
      ],
    ),
    'A log is read by the recorder’s instruments, see [logs of flights](logs.md).',
    '## Lines of a flight',
    'The first error is that of the reading, the second how far two flights of one craft differ.',
    markdownTable(['line', 'what it is', 'the reading, usually', 'two flights', ''], flights),
    [
      `- A stated charge (\`at 60 %\`) is good to ${share(STATED_CHARGE)}; else hover was read anywhere between the full pack and the reserve.`,
      '- What was put back is compared with the mean current as flown, half way through. A count in the same block is compared with the charger alone, whose error is included.',
      `- A burst of two seconds sags by ${share(1 - SLOW_SAG.share * Math.exp(-2 / SLOW_SAG.seconds))} ± ${burst(SLOW_SAG.spread)} of the resistance that counts in a climb, one of half a minute by nearly all of it.`,
      `- How warm the pack was on that day and how warm it is usually have a correlation of ${ALIKE_IN_WARMTH}.`,
      `- Of two dated observations of one pack the resistance one year earlier was ${share(GROWTH_PER_YEAR.mean)} less, ± ${share(GROWTH_PER_YEAR.spread)} times the root of the years; more than ${GROWTH_PER_YEAR.longest} years count as ${GROWTH_PER_YEAR.longest}.`,
    ].join('\n'),
    '## Rows of a stand',
    markdownTable(['column', 'one row', ''], rows),
    'A row without voltage and duty is open in what it lacks: its speed is an input.',
    '## The fit, in formulas',
    [
      '1. **Prior.** Inputs are all figures that the lines rest on, each in its own standard deviations, z ~ N(0, 1): the logarithm of what is positive, the logit of a share, everything else as it is written.',
      '2. **Lines.** A line is f(z) = y ± s, in logarithms but for an output.',
      '3. **Rounds.** With the residual r = (y − f) / s and the slopes g = ∂f/∂z / s at the present point, the next point is z = (1 + Σ g·gᵀ)⁻¹ Σ g·(r + g·z) (Gauss and Newton; Tarantola, ch. 3).',
      `4. **Slopes** are found at the start and once more near the end; in between each round determines how they change along its step (Broyden). At most ${ROUNDS} rounds: twelve with all slopes move nothing by a tenth of a standard deviation.`,
      '5. **Posterior.** The covariance is (1 + Σ g·gᵀ)⁻¹ at the end. It is kept as the prior’s inputs and a few orthonormal directions along which a standard deviation of 1 becomes 1/√(1 + λ), so that two packs, and two builds, keep what their errors have in common.',
    ].join('\n'),
    '## Contradictions',
    [
      `- **Found.** A line contradicts the others where its residual over s·√(1 − leverage) is past ${OUTLYING} (3.3 where twenty were measured; Belsley, Kuh and Welsch), and where it lies two off what the other measurements alone make of it: what only the figures of the parts contradict is learnt. Past the bound it is compared with a fit without it, for a line far off has moved the fit towards itself.`,
      '- **Named.** The report states what the other lines make of it, and the one input that would explain it best: with the prior of an input moved, the sum of squares falls by at most m²/(1 − l²), at a move of m/(1 − l²), where the measurements moved it by m of its standard deviations and left it l of them (Rao’s score test). A flight or a stand as a whole is named where that is the worst. Of two lines, flights or stands that contradict each other the one is named without which the sum of squares falls further, by 4 at least (odds of seven to one); with less between them both are, for nothing shows which is right.',
      `- **Included.** Each line, and each flight or stand as a whole, is compared with what the other measurements alone make of it, the prior taken out, if they determine it at least as well as the figures of the parts do. Where the worst pair is past the same bound, the mean stays and the ± grows (as where experiments disagree: Birge; DerSimonian and Laird), along the one direction in which the two sides differ: C·g/(gᵀ·C·g), times Birge’s standard deviation of the mean of the two (their difference times √(w·(1 − w)), w the weight of one), or half the way from the fit to the farther of them where that is more, so that two standard deviations include both. What then still contradicts itself among the others, that side left out, is included in the same way. A count that a charger in the same block contradicts widens what rests on either. The ± grows to that over ${GROWS_OVER} standard deviations past the bound. It is one more input, “contradiction between … and the other measurements”, which \`fettle explain\` lists among what the ± comes from.`,
      '- **Not a contradiction** is what only the figures of the parts speak against: those the measurements correct.',
    ].join('\n'),
    '## Figures that are far off, and what cannot be distinguished',
    `A figure that the measurements put more than ${FARTHER} of its own standard deviations off is named ([estimate-gives-way](findings/estimate-gives-way.md)). Rows without torque do not distinguish a propeller that takes less power from a motor that loses less: electrical power, speed and thrust determine the two together, and what commutation and iron lose is known to a third. Of simulated propellers three standard deviations off their page, measured in three rows, all are named with torque, and without it 85 in 100 of those that take more and half of those that take less. The power of motor and propeller together, for the thrust and speed of the rows, is what such rows determine, to a few per cent; where it lies as far off what the figures make it, it is named instead, which finds another tenth. The rows contain no more: of three standard deviations of the propeller, two are left in that power.`,
    '## Trend and discrepancy',
    `C_T and C_P are proportional to speed to the power of 0.05 ± 0.05 and −0.05 ± 0.05 about tips at 100 m/s. Where rows of a stand show it, they depart from that by a Gaussian process with the amplitudes ${AMPLITUDE.thrust} in thrust and ${AMPLITUDE.power} in shaft power, a squared exponential of the width 0.7 in the logarithm of speed, given by its values at ${KNOTS.length} knots (Kennedy and O’Hagan). The model’s own terms for full and part duty, for the pack and for the windings are inputs as well: see the [limits](limits.md).`,
    '## Sources',
    [
      '- A. Tarantola, Inverse Problem Theory, 2005, ch. 3: least squares with prior knowledge.',
      '- C. G. Broyden, Mathematics of Computation 19 (1965) 577: slopes from steps.',
      '- M. C. Kennedy, A. O’Hagan, J. R. Stat. Soc. B 63 (2001) 425: calibration with a discrepancy of the model.',
      '- D. A. Belsley, E. Kuh, R. E. Welsch, Regression Diagnostics, 1980, ch. 2: leverage.',
      '- C. E. Rasmussen, C. K. I. Williams, Gaussian Processes for Machine Learning, 2006, 5.4.2: each line left out, in one sum.',
      '- C. R. Rao, Proc. Cambridge Phil. Soc. 44 (1948) 50: the score test.',
      '- R. T. Birge, Phys. Rev. 40 (1932) 207, and R. DerSimonian, N. Laird, Controlled Clinical Trials 7 (1986) 177: a ± that grows where experiments disagree.',
      '- E. B. Wilson, M. M. Hilferty, Proc. Nat. Acad. Sci. 17 (1931) 684: several lines compared with the bound of one.',
      '- JCGM 100: the meaning of ±.',
    ].join('\n'),
    'Rasmussen and Williams, Birge, DerSimonian and Laird, and Wilson and Hilferty are cited from memory (unverified). How well this works is in [validation](VALIDATION.md).',
  ].join('\n\n');
}
