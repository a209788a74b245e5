/** The numbers that go into derivations: figures, other results, and what a solved point says. */
import type { Figure, RotorLine } from '../model/build.ts';
import { airAt } from '../physics/air.ts';
import { isImpossible, type OperatingPoint, type RotorState } from '../physics/craft.ts';
import type { Assessment } from './assessment.ts';
import { coefficientsOfLine } from './bench.ts';
import type { DerivationTerm } from './derivation.ts';
import { COVERAGE, expanded } from './estimate.ts';
import { asItStands } from './template.ts';

export const ofFigure = (symbol: string, figure: Figure | undefined): DerivationTerm | undefined =>
  figure && {
    symbol,
    figure: figure.id,
    label: figure.label,
    value: asItStands(figure),
    unit: figure.unit,
    plusMinus: COVERAGE * figure.standardUncertainty,
    origin: figure.origin,
    ...((figure.source ?? figure.because) !== undefined && { because: figure.source ?? figure.because }),
    ...(figure.place && { place: figure.place }),
  };

export const ofResult = (symbol: string, name: string, { results }: Assessment): DerivationTerm | undefined => {
  const result = results.get(name);
  return (
    result && {
      symbol,
      label: result.label,
      value: result.estimate.value,
      unit: result.unit,
      plusMinus: expanded(result.estimate),
      result: name,
    }
  );
};

export const ofNumber = (
  symbol: string,
  label: string,
  value: number | undefined,
  unit: string,
): DerivationTerm | undefined => (value === undefined ? undefined : { symbol, label, value, unit });

export type PointName = keyof Assessment['points'];

export function pointOf({ points }: Assessment, which: PointName): OperatingPoint | undefined {
  const point = points[which];
  return point && !isImpossible(point) ? point : undefined;
}

/** The rotor line that works hardest at a point, with its state there. */
export function hardest(assessment: Assessment, which: PointName): { line: RotorLine; rotor: RotorState } | undefined {
  const states = pointOf(assessment, which)?.rotors ?? [];
  const [index] = states
    .map((_, i) => i)
    .sort((a, b) => (states[b]?.motorCurrent ?? 0) - (states[a]?.motorCurrent ?? 0));
  const line = index === undefined ? undefined : assessment.build.rotors[index];
  const rotor = index === undefined ? undefined : states[index];
  return line && rotor && { line, rotor };
}

export const rotorCount = ({ build }: Assessment): number =>
  build.rotors.reduce((sum, { count }) => sum + count.value, 0);

function airDensity({ build: { rules } }: Assessment): number {
  const { altitude, airTemperature, humidity } = rules;
  return airAt({
    altitude: altitude.value,
    temperature: airTemperature.value,
    ...(humidity && { relativeHumidity: humidity.value }),
  }).density;
}

export const airTerms = (assessment: Assessment) => [
  ofNumber('ρ', 'density of the air', airDensity(assessment), 'kg/m^3'),
  ofFigure('T_air', assessment.build.rules.airTemperature),
  ofFigure('h', assessment.build.rules.altitude),
];

export const propellerTerms = (assessment: Assessment) => {
  const { line } = hardest(assessment, 'hover') ?? hardest(assessment, 'full') ?? {};
  const { thrust, power } = line ? coefficientsOfLine(assessment.build, line) : {};
  return [
    ofFigure('C_T', thrust),
    ofFigure('C_P', power),
    ofFigure('D', line?.propeller.figure('diameter')),
    ofFigure('g_d', assessment.build.airframe?.part.figure('duct_gain')),
  ];
};

export const motorTerms = ({ motor }: RotorLine) => [
  ofFigure('K', motor.figure('kv')),
  ofFigure('R', motor.figure('resistance')),
  ofFigure('L', motor.figure('inductance')),
  ofFigure('i_0', motor.figure('idle')),
];

export const boardTerm = ({ build }: Assessment) => ofFigure('R_on', build.escs[0]?.part.figure('resistance'));

export const packTerms = ({ option }: Assessment) => [
  ofFigure('r', option.part.figure('cell_resistance')),
  ofFigure('T_pack', option.part.figure('temperature')),
  ofFigure('r_plug', option.part.figure('plug_resistance')),
];

export const rotorTerms = (rotor: RotorState | undefined) =>
  rotor
    ? [
        ofNumber('P_s', 'shaft power of one rotor', rotor.shaftPower, 'W'),
        ofNumber('i', 'current in one winding', rotor.motorCurrent, 'A'),
        ofNumber('v', 'mean voltage at one motor', rotor.motorVoltage, 'V'),
        ofNumber('P_r', 'lost to current ripple in one motor', rotor.rippleLoss, 'W'),
      ]
    : [];
