/** Rails and loads of a build, as the numbers that the physics takes. */
import type { Build, Feed, Figure, LoadUse, Part, RailUse } from '../../model/build.ts';
import type { Load, Rail, Source } from '../../physics/craft.ts';
import type { LoadLevel } from '../../physics/rails.ts';
import { equal, POWER } from '../../units/dimension.ts';
import { asRead, type Lack } from './drive.ts';
import type { Template } from './template.ts';

const RAIL_TYPES: readonly Rail['type'][] = ['buck', 'boost', 'buck_boost', 'linear'];

function railTypeOf(rail: RailUse['part']): Rail['type'] {
  const word = rail.word('type');
  return RAIL_TYPES.find((type) => type === word) ?? 'buck';
}

function sourceOf(feed: Feed, rails: readonly RailUse[]): Source {
  const index = 'rail' in feed ? rails.indexOf(feed.rail) : -1;
  return index < 0 ? 'bus' : index;
}

export function railTemplates(build: Build, lack: Lack): Template<Rail>[] {
  return build.rails.map(({ part, from }) => {
    const output = lack.figure(part, 'output');
    const dropout = part.figure('dropout');
    const efficiency = part.figure('efficiency');
    const idle = part.figure('standby_current');
    return {
      from: sourceOf(from, build.rails),
      type: railTypeOf(part),
      output: output ? asRead(output) : 0,
      dropout: dropout ? asRead(dropout) : 0,
      efficiency: efficiency ? asRead(efficiency) : 1,
      standbyCurrent: idle ? asRead(idle) : 0,
    };
  });
}

/** What a load takes at rest and in hover, and in a burst and at full duty. */
export function drawOf(load: Part<'load'>): Partial<Record<LoadLevel, Figure>> {
  const draw = load.figure('draw');
  const peak = load.figure('peak') ?? draw;
  return { ...(draw && { draw }), ...(peak && { peak }) };
}

/** A load whose draw is not known draws nothing; that a figure is missing is a finding of the text. */
export function loadTemplate({ part, count, from }: LoadUse, rails: readonly RailUse[]): Template<Load> {
  const { draw, peak } = drawOf(part);
  const supply = part.range('supply');
  return {
    from: sourceOf(from, rails),
    kind: draw && !equal(draw.dimension, POWER) ? 'current' : 'power',
    draw: draw ? (read) => count * read(draw) : 0,
    peak: peak ? (read) => count * read(peak) : 0,
    ...(supply && { minimumVoltage: supply.low }),
  };
}
