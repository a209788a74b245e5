/** What checks compare with the limits of rotors, loads, rails and pack. */
import type { RailUse } from '../../model/build.ts';
import {
  type Craft,
  isImpossible,
  type OperatingPoint,
  possible,
  type RotorState,
  type Source,
} from '../../physics/craft.ts';
import { supplyVoltage } from '../../physics/rails.ts';
import type { Estimate, LoadResults, PackResults, RailResults, RotorResults } from '../assessment.ts';
import type { BrownOut } from '../evaluate/brown-out.ts';
import type { Evaluation } from '../evaluate/evaluation.ts';
import {
  atFull,
  inBurst,
  inFlight,
  type Measure,
  motorPower,
  ofRestingPack,
  overFlight,
  restingCell,
  settledWinding,
  speedFactorOf,
} from './reading.ts';

/** The properties of a part's results that are estimates. */
type EstimateName<Results> = {
  [Name in keyof Results]-?: NonNullable<Results[Name]> extends Estimate ? Name : never;
}[keyof Results];

/** A measure for each estimate of a part's results: one that is left out does not compile. */
export type MeasuresOf<Results> = Readonly<Record<EstimateName<Results>, Measure>>;

const NOWHERE: Measure = { needs: [], of: () => undefined };

/** Of one rotor line. */
export function rotorMeasures(line: number): MeasuresOf<RotorResults> {
  const rotor = (point: OperatingPoint): RotorState => point.rotors[line] as RotorState;
  return {
    fullCurrent: {
      needs: ['full'],
      of: atFull('full', ({ point, factor }) => rotor(point).motorCurrent * factor),
    },
    fullPower: {
      needs: ['full'],
      of: atFull('full', ({ point, factor }) => motorPower(rotor(point)) * factor),
    },
    fullSpeed: {
      needs: ['full'],
      of: atFull('full', (at) => rotor(at.point).speed * speedFactorOf(at)),
    },
    mixCurrent: {
      needs: ['hover'],
      of: overFlight((points) =>
        Math.sqrt(points.reduce((sum, { share, point }) => sum + share * rotor(point).motorCurrent ** 2, 0)),
      ),
    },
    rippleShare: {
      needs: ['hover'],
      of: inFlight('hover', ({ point }) => rotor(point).rippleLoss / (rotor(point).busCurrent * point.busVoltage)),
    },
    windingTemperature: { needs: ['hover', 'heat'], of: settledWinding(line) },
  };
}

/** Of one rail: what its limits are compared with. Its results are in `rail-results.ts`. */
export function railMeasures(rail: number, { part }: RailUse): MeasuresOf<RailResults> {
  const input = (craft: Craft, busVoltage: number): number =>
    supplyVoltage(craft.rails, craft.rails[rail]?.from ?? 'bus', busVoltage);
  const least: Pick<MeasuresOf<RailResults>, 'hoverInputVoltage' | 'burstInputVoltage'> = {
    hoverInputVoltage: {
      needs: ['hoverAtReserve'],
      of: inFlight('hoverAtReserve', ({ point, craft }) => input(craft, point.busVoltage)),
    },
    burstInputVoltage: {
      needs: ['burstAtReserve'],
      of: inBurst('burstAtReserve', ({ craft, busVoltage }) => input(craft, busVoltage)),
    },
  };
  return {
    // Not needed where the part does not state what it works from.
    ...(part.range('supply') ? least : { hoverInputVoltage: NOWHERE, burstInputVoltage: NOWHERE }),
    hoverCurrent: {
      needs: ['hoverAtReserve'],
      of: inFlight('hoverAtReserve', ({ point }) => point.rails[rail]?.current ?? 0),
    },
    peakCurrent: {
      needs: ['burstAtReserve'],
      of: inFlight('burstAtReserve', ({ point }) => point.rails[rail]?.current ?? 0),
    },
    restInputVoltage: {
      needs: ['rest'],
      of: ofRestingPack((point, craft) => input(craft, point.busVoltage)),
    },
  };
}

/** Of one load: what it is fed with, and the charge below which that is too little. */
export function loadMeasures(load: number): MeasuresOf<LoadResults> {
  const feed = (craft: Craft): Source => craft.loads[load]?.from ?? 'bus';
  const brownOut =
    (of: (brownOut: BrownOut, craft: Craft) => number | undefined) =>
    ({ craft }: Evaluation): number | undefined => {
      const found = craft?.flight?.brownOuts[load];
      return craft && found && of(found, craft.craft);
    };
  return {
    restVoltage: {
      needs: ['rest'],
      of: ofRestingPack((point, craft) => supplyVoltage(craft.rails, feed(craft), point.busVoltage)),
    },
    hoverVoltage: {
      needs: ['hoverAtReserve'],
      of: inFlight('hoverAtReserve', ({ point, craft }) => supplyVoltage(craft.rails, feed(craft), point.busVoltage)),
    },
    burstVoltage: {
      needs: ['burstAtReserve'],
      of: inBurst('burstAtReserve', ({ craft, busVoltage }) => supplyVoltage(craft.rails, feed(craft), busVoltage)),
    },
    fullVoltage: {
      needs: ['fullAtReserve'],
      of: atFull('fullAtReserve', ({ craft, busVoltage }) => supplyVoltage(craft.rails, feed(craft), busVoltage)),
    },
    hoverBrownOut: { needs: ['hover'], of: brownOut(({ inHover }) => inHover) },
    burstBrownOut: { needs: ['hover', 'burst'], of: brownOut(({ inBurst }) => inBurst) },
    landByHoverVoltage: {
      needs: ['hover', 'burst'],
      of: brownOut(({ hoverAtBurst }, craft) => {
        const point = possible<OperatingPoint>(hoverAtBurst);
        return point && point.busVoltage / craft.pack.cellsInSeries;
      }),
    },
  };
}

/** Of the pack as flown, and of its cells in a burst from full. */
export const PACK_MEASURES: MeasuresOf<PackResults> = {
  mixCurrent: {
    needs: ['hover'],
    of: overFlight((phases) => phases.reduce((sum, { share, point }) => sum + share * point.packCurrent, 0)),
  },
  burstCellSag: {
    needs: ['burst'],
    of: inBurst('burst', ({ craft, cellVoltage }) => restingCell(craft, 1) - cellVoltage),
  },
  reserveHoverCellVoltage: {
    needs: ['hoverAtReserve'],
    of: inFlight('hoverAtReserve', ({ point }) => point.cellVoltage),
  },
  hoverShortfall: { needs: ['hover'], of: shortfallAt('hover') },
  reserveHoverShortfall: { needs: ['hoverAtReserve'], of: shortfallAt('hoverAtReserve') },
};

/** Of what the pack would have to deliver. */
function shortfallAt(name: 'hover' | 'hoverAtReserve'): Measure['of'] {
  return ({ craft }) => {
    const point = craft?.flight?.[name];
    return point && isImpossible(point) && point.impossible === 'power' ? point.shortfall : undefined;
  };
}
