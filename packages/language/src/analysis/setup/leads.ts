/** Leads and plugs between cells and board, as far as they are declared: what flows through each, and how hot a burst makes it. */
import type { Build, Figure, PackOption, Part } from '../../model/build.ts';
import { adiabaticRise, leadPairResistance } from '../../physics/lead.ts';
import type { Place } from '../../syntax/place.ts';
import type { Estimate } from '../assessment.ts';
import { mapped } from '../uncertainty/estimate.ts';

export interface Lead {
  readonly part: Part<'pack' | 'lead'>;
  /** Copper of one core, m². */
  readonly area: Figure;
  /** One way, m. */
  readonly length: Figure;
  /** Of the whole current; pieces side by side share it. */
  readonly share: number;
  /** Its line in the build. */
  readonly place: Place;
}

/** Copper of a lead in use, K. */
export const LEAD_TEMPERATURE = 303.15;
/** How long a burst lasts where no rule states it, s. */
const USUAL_BURST = 1;

/** Those that state their copper; the pack's own one first. */
export function declaredLeads({ leads }: Build, option: PackOption): Lead[] {
  const own = option.part.declared('lead');
  const ownArea = own?.conditions.of;
  const ownLead =
    own && ownArea?.place
      ? [
          {
            part: option.part,
            area: ownArea,
            length: own,
            share: option.arrangement === 'parallel' ? 1 / option.count : 1,
            place: option.place,
          },
        ]
      : [];
  const others = leads.flatMap(({ part, count, place }) => {
    const area = part.declared('wire');
    const length = part.figure('length');
    return area && length ? [{ part, area, length, share: 1 / count, place }] : [];
  });
  return [...ownLead, ...others];
}

/** Both cores, ohm. */
export const leadResistanceOf = ({ area, length }: Lead): number =>
  leadPairResistance(area.value, length.value, LEAD_TEMPERATURE);

/** s */
export const burstDuration = ({ rules }: Build): number => rules.burstMultiple.conditions.for?.value ?? USUAL_BURST;

/** Kelvins that a burst current of the whole craft (A) for a time (s) warms a lead, without cooling. */
export const burstRise = ({ area, share }: Lead, current: Estimate, time: number): Estimate =>
  mapped(current, (ampere) => adiabaticRise(ampere * share, area.value, time, LEAD_TEMPERATURE));
