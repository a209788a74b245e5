/** How a rail's voltage and current came about, by the kind of its regulator, what feeds it and what depends on it. */
import type { Part, RailUse } from '../../model/build.ts';
import type { Rail, RailState } from '../../physics/craft.ts';
import { collapseVoltage } from '../../physics/rails.ts';
import { type RailResultName, railResult } from '../../vocabulary/results.ts';
import type { Assessment } from '../assessment.ts';
import { drawOf } from '../setup/rail-setup.ts';
import { busTerm, type ExplainedPoint, pointAt } from './derivation-points.ts';
import { indexed, ofFigure, ofNumber, ofResult, several, type Terms } from './derivation-terms.ts';
import type { Explanation } from './explanation.ts';

const SOURCE = 'S. Franco, Design with Operational Amplifiers and Analog Integrated Circuits, 3rd ed., ch. 11';
const NEGLECTS = 'efficiency over load, start-up; current limits are checked, but not modelled';

interface Holding {
  readonly formula: string;
  readonly description: string;
  /** Of the formula, V_out aside. */
  readonly needs: readonly ('dropout' | 'input')[];
}

const FOLLOWS =
  'Regulates its output while the input is above it by the dropout voltage; below that, the output follows the input.';

const HOLDING: Readonly<Record<Rail['type'], Holding>> = {
  buck: { formula: 'V = min(V_out, V_in − V_drop)', description: FOLLOWS, needs: ['dropout', 'input'] },
  linear: { formula: 'V = min(V_out, V_in − V_drop)', description: FOLLOWS, needs: ['dropout', 'input'] },
  boost: {
    formula: 'V = max(V_out, V_in)',
    description: 'Regulates its output from any lower input; a higher input passes through.',
    needs: ['input'],
  },
  buck_boost: { formula: 'V = V_out', description: 'Regulates its output from any input.', needs: [] },
};

export function railExplanation(
  name: string,
  quantity: RailResultName,
  assessment: Assessment,
): Explanation | undefined {
  const index = assessment.build.rails.findIndex((rail) => rail.name === name);
  const at = pointAt(assessment, quantity === 'burst_voltage' ? 'burstAtReserve' : 'hoverAtReserve');
  const rail = at?.craft.rails[index];
  const use = assessment.build.rails[index];
  if (!at || !rail || !use) return undefined;
  return quantity === 'current' ? currentOf(at, use, index) : voltageOf(at, use, rail, quantity);
}

function voltageOf(at: ExplainedPoint, { part, from }: RailUse, { type }: Rail, quantity: RailResultName): Explanation {
  const { formula, description, needs } = HOLDING[type];
  return {
    formula,
    description,
    terms: [
      ofFigure('V_out', part.figure('output')),
      needs.includes('dropout') ? ofFigure('V_drop', part.figure('dropout')) : undefined,
      needs.includes('input')
        ? 'rail' in from
          ? ofResult('V_in', railResult(from.rail.name, quantity), at.assessment)
          : busTerm('V_in', at, at.factor)
        : undefined,
    ],
    source: SOURCE,
    neglects: NEGLECTS,
  };
}

function currentOf(at: ExplainedPoint, use: RailUse, index: number): Explanation {
  const { craft, point } = at;
  const loads = loadTerms(at, index);
  const behind = railsBehind(at, use);
  const rated = craft.rails[index]?.output ?? 0;
  const voltage = point.rails[index]?.voltage ?? 0;
  if (voltage <= 0) return nothing('Its input is too low for any output.', at, use);
  const holds = voltage >= collapseVoltage(rated);
  const parts = [
    ...(loads.power.length > 0 ? [holds ? 'Σ P/V' : 'Σ P·V/(½·V_out)²'] : []),
    ...(loads.current.length > 0 ? [holds ? 'Σ I_load' : 'Σ I_load·V/(½·V_out)'] : []),
    ...(behind.length > 0 ? ['Σ I_in'] : []),
  ];
  if (parts.length === 0) return nothing('It supplies no load.', at, use);
  const collapsed = holds ? '' : ' Below half its output a load is the resistance that it was there.';
  const switches = behind.some(({ part, isLinear }) => !isLinear && part.figure('efficiency'));
  return {
    formula: `I = ${parts.join(' + ')}`,
    description: `The current that its loads${behind.length > 0 ? ' and the rails behind it' : ''} draw.${collapsed}`,
    terms: [
      ...loads.power,
      ...loads.current,
      loads.power.length > 0 || switches || !holds ? voltageTerm(at, use) : undefined,
      holds ? undefined : ofFigure('V_out', use.part.figure('output')),
      ...behindTerms(at, behind),
    ],
    source: SOURCE,
    neglects: NEGLECTS,
  };
}

const voltageTerm = ({ assessment }: ExplainedPoint, { name }: RailUse) =>
  ofResult('V', railResult(name, 'voltage'), assessment);

const nothing = (description: string, at: ExplainedPoint, use: RailUse): Explanation => ({
  formula: 'I = 0',
  description,
  terms: [voltageTerm(at, use)],
  source: SOURCE,
  neglects: NEGLECTS,
});

/** As they draw in hover. */
function loadTerms(at: ExplainedPoint, index: number): { readonly power: Terms; readonly current: Terms } {
  const { assessment, craft, level } = at;
  const fed = assessment.build.loads.flatMap(({ part, count }, i) => {
    const load = craft.loads[i];
    const figure = drawOf(part)[level];
    if (load?.from !== index || !figure) return [];
    const term = ofFigure('', figure);
    return term ? [{ kind: load.kind, ...several(term, count) }] : [];
  });
  const ofKind = (kind: 'power' | 'current', symbol: string): Terms => {
    const alike = fed.filter((load) => load.kind === kind);
    return alike.map(({ kind: _, ...term }, i) => ({ ...term, symbol: indexed(symbol, i, alike.length) }));
  };
  return { power: ofKind('power', 'P'), current: ofKind('current', 'I_load') };
}

interface RailBehind {
  readonly name: string;
  readonly part: Part;
  readonly isLinear: boolean;
  readonly state: RailState | undefined;
}

const railsBehind = ({ assessment, craft, point }: ExplainedPoint, use: RailUse): RailBehind[] =>
  assessment.build.rails.flatMap(({ name, part, from }, i) =>
    'rail' in from && from.rail === use
      ? [{ name, part, isLinear: craft.rails[i]?.type === 'linear', state: point.rails[i] }]
      : [],
  );

/** What each rail behind it draws, and from which of its numbers. */
function behindTerms({ assessment }: ExplainedPoint, behind: readonly RailBehind[]): Terms {
  return behind.flatMap(({ name, part, isLinear, state }, i) => {
    const symbol = (of: string) => indexed(of, i, behind.length);
    const own = part.figure('standby_current') ? ` + ${symbol('I_own')}` : '';
    const [v, out, η] = [symbol('V_r'), symbol('I_r'), symbol('η')];
    return [
      ofNumber(
        symbol('I_in'),
        `into ${name}: ${isLinear ? out : `${v}·${out}/(${η}·V)`}${own}`,
        state?.inputCurrent,
        'A',
      ),
      isLinear ? undefined : ofResult(v, railResult(name, 'voltage'), assessment),
      ofResult(out, railResult(name, 'current'), assessment),
      isLinear ? undefined : ofFigure(η, part.figure('efficiency')),
      ofFigure(symbol('I_own'), part.figure('standby_current')),
    ];
  });
}
