/** A flight in legs, and one of its legs, as every build that makes it takes them. Markdown. */

import { formatPrinted } from '../../analysis/uncertainty/print-estimate.ts';
import type { CheckedBuild } from '../../checks/run.ts';
import { type FlightData, flightDataOf } from '../../report/flights/flight-data.ts';
import { flightCells, legCells } from '../../report/flights/flight-words.ts';
import { isSameStart, type Place } from '../../syntax/place.ts';
import { fettleCode, paragraphs, plain } from './hover-markdown.ts';

interface OnPack {
  readonly build: string;
  readonly pack: string;
  readonly flight: FlightData;
}

const flown = (name: string, builds: readonly CheckedBuild[]): OnPack[] =>
  builds.flatMap(({ build, assessments }) =>
    assessments.flatMap((assessment) =>
      flightDataOf(assessment)
        .filter((flight) => flight.name === name)
        .map((flight) => ({ build: build.name, pack: assessment.option.name, flight })),
    ),
  );

/** Undefined where no build that is computed makes it. */
export function flightHover(name: string, builds: readonly CheckedBuild[]): string | undefined {
  const rows = flown(name, builds).map(({ build, pack, flight }) => {
    const [time, takes, leaves, turnBack] = flightCells(flight);
    if (flight.reason !== undefined) return `- ${fettleCode(build)} on ${fettleCode(pack)}: ${plain(flight.reason)}`;
    const back = flight.turnBack ? `; turn back ${turnBack}` : '';
    return `- ${fettleCode(build)} on ${fettleCode(pack)}: ${plain(`${time}, takes ${takes}, leaves ${leaves}${back}`)}`;
  });
  return rows.length > 0 ? rows.join('\n') : undefined;
}

/** What there is when a leg ends. */
export function legHover(name: string, place: Place, builds: readonly CheckedBuild[]): string | undefined {
  const rows = flown(name, builds).flatMap(({ build, pack, flight }) => {
    const leg = flight.legs.find((one) => isSameStart(one.place, place));
    if (!leg?.charge) return [];
    const [time, charge, cell, resting, mass] = legCells(leg);
    const least = leg.cheapest ? `; a metre takes least at ${formatPrinted(leg.cheapest)}` : '';
    const reported = `${time} after take-off, ${charge} used, a cell at ${cell} (${resting} at rest), ${mass}${least}`;
    return [`- ${fettleCode(build)} on ${fettleCode(pack)}: ${plain(reported)}`];
  });
  return rows.length > 0 ? paragraphs('When this leg ends:', rows.join('\n')) : undefined;
}
