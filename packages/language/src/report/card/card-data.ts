/**
 * What a pilot takes to the field about a build, as plain data. Numbers are SI with the unit in which to print them;
 * ± is expanded (k = 2), and 0 where only the value is known.
 */
import type { Assessment } from '../../analysis/assessment.ts';
import { type CurveMoment, type FlightCurve, flightCurve } from '../../analysis/curves/flight-curve.ts';
import { cellsInSeries } from '../../analysis/setup/pack-setup.ts';
import type { PrintedEstimate } from '../../analysis/uncertainty/print-estimate.ts';
import type { Finding } from '../../checks/finding.ts';
import type { CheckedBuild } from '../../checks/run.ts';
import { packWords } from '../../model/arrangements.ts';
import type { Note } from '../../model/build.ts';
import { atLeast } from '../../vocabulary/severities.ts';
import { type Checked, findingsAbout, unjudgedOf } from '../checked.ts';
import { type FlightData, flightDataOf } from '../flights/flight-data.ts';
import { printedOf } from '../present/result-printed.ts';
import { timeAsFlown } from '../sheet/sheet-data.ts';
import { type SheetVerdict, sheetVerdictOf } from '../sheet/sheet-words.ts';

/** What is read at one moment of a flight. */
export interface CardReading {
  /** Volts per cell, hovering. */
  readonly hover: PrintedEstimate;
  /** Volts per cell, motors off. */
  readonly resting: PrintedEstimate;
  readonly used: PrintedEstimate;
  /** Since take-off, hovering all the time. */
  readonly after: PrintedEstimate;
  /** The same with the efforts that are stated as flown. */
  readonly flown?: PrintedEstimate;
}

export interface CardPack {
  /** In words: several packs as several. */
  readonly pack: string;
  /** Share; 1 when there is none. */
  readonly dutyLimit: number;
  /** In series. */
  readonly cells?: number;
  /** All of it on the scale, pack in. */
  readonly weight?: PrintedEstimate;
  /** Volts per cell of the full pack, motors off. */
  readonly full?: PrintedEstimate;
  readonly turnBack?: CardReading;
  readonly land?: CardReading;
  /** Browns out in a burst before the reserve begins: why to land earlier than that. */
  readonly brownsOut?: string;
  /** In legs, as the build is to make them. */
  readonly flights: readonly CardFlight[];
  /** Why there is nothing to read. */
  readonly reason?: string;
}

export type CardFlight = Pick<FlightData, 'name' | 'title' | 'time' | 'charge' | 'turnBack'>;

export interface CardData {
  readonly build: string;
  readonly title?: string;
  readonly packs: readonly CardPack[];
  readonly verdict: SheetVerdict;
  /** Errors and warnings, and what was accepted. */
  readonly findings: readonly Finding[];
  /** Words for before each flight. */
  readonly preflight: readonly string[];
  readonly assembly: readonly string[];
  /** Notes for no occasion. */
  readonly notes: readonly string[];
}

export function cardData({ build, assessments }: CheckedBuild, checked: Checked): CardData {
  const printed = notesOf(build.notes);
  const findings = findingsAbout(build, checked);
  return {
    build: build.name,
    ...(build.title !== undefined && { title: build.title }),
    packs: assessments.map(packOf),
    verdict: sheetVerdictOf(findings, unjudgedOf(build, checked)),
    findings: findings.filter(isForTheField),
    preflight: printed('preflight'),
    assembly: printed('assembly'),
    notes: printed(undefined),
  };
}

const isForTheField = ({ severity, accepted }: Finding): boolean =>
  atLeast(severity, 'warning') || accepted !== undefined;

/** Those for one occasion, each once. */
const notesOf = (notes: readonly Note[]) => (wanted: string | undefined) => [
  ...new Set(notes.filter(({ occasion }) => occasion === wanted).map(({ text }) => text)),
];

function packOf(assessment: Assessment): CardPack {
  const { build, option } = assessment;
  const flight = flightCurve(build, option);
  const weight = printedOf('all_up_weight', assessment);
  const cells = cellsInSeries(option);
  const brownsOut = flight && flight.landBy > flight.reserve ? firstToBrownOut(assessment) : undefined;
  return {
    pack: packWords(option),
    dutyLimit: option.dutyLimit.value,
    ...(cells !== undefined && { cells }),
    ...(weight && { weight }),
    ...(flight ? readings(flight, assessment) : { reason: reasonOf(assessment) }),
    ...(brownsOut !== undefined && { brownsOut }),
    flights: flightDataOf(assessment).filter(({ charge }) => charge !== undefined),
  };
}

function readings(
  { moments: [takeOff], turnBack, landing }: FlightCurve,
  assessment: Assessment,
): Pick<CardPack, 'full' | 'turnBack' | 'land'> {
  const flown = timeAsFlown(assessment);
  const whole = { used: printedOf('charge_used', assessment), after: printedOf('hover_time', assessment) };
  const about = (moment: CurveMoment) => ({
    used: shareOf(whole.used, landing.used, moment.used, 'mAh'),
    after: shareOf(whole.after, landing.time, moment.time, 'min'),
    // The efforts alternate all flight long: each moment comes earlier in the same ratio.
    ...(flown && landing.time > 0 && { flown: scaledBy(flown, moment.time / landing.time) }),
  });
  return {
    ...(takeOff && { full: volts(takeOff.resting) }),
    ...(turnBack.hover !== undefined && {
      turnBack: { hover: volts(turnBack.hover), resting: volts(turnBack.resting), ...about(turnBack) },
    }),
    ...(landing.hover !== undefined && {
      land: {
        hover: printedOf('land_by_hover_voltage', assessment) ?? volts(landing.hover),
        resting: printedOf('land_by_resting_voltage', assessment) ?? volts(landing.resting),
        ...about(landing),
      },
    }),
  };
}

/** Relative; two ways to the same number. */
const SAME = 1e-3;

/** A part of what a whole flight uses or lasts has its relative ±, where the flight ends at the result's end. */
function shareOf(whole: PrintedEstimate | undefined, atLanding: number, value: number, unit: string): PrintedEstimate {
  const isKnown = whole !== undefined && Math.abs(whole.value - atLanding) <= SAME * atLanding;
  return { value, unit, plusMinus: isKnown ? (whole.plusMinus * value) / whole.value : 0 };
}

const scaledBy = (whole: PrintedEstimate, share: number): PrintedEstimate => ({
  ...whole,
  value: share * whole.value,
  plusMinus: share * whole.plusMinus,
});

const volts = (value: number): PrintedEstimate => ({ value, plusMinus: 0, unit: 'V' });

/** The load that ends the flight. */
function firstToBrownOut({ loads }: Assessment): string | undefined {
  const charges = loads.map(({ load, burstBrownOut }) => ({ name: load.name, charge: burstBrownOut?.value ?? 0 }));
  return charges.sort((a, b) => b.charge - a.charge)[0]?.name;
}

const reasonOf = ({ missing }: Assessment): string =>
  missing.get('land_by_hover_voltage')?.reason ?? 'it cannot be computed from what is stated';
