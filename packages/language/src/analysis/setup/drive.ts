/** Motor and board as the numbers that the physics takes. */

import type { Build, Figure, Part } from '../../model/build.ts';
import type { EscChannel, Motor, Propeller } from '../../physics/craft.ts';
import { copperFactor } from '../../physics/lead.ts';
import { commutationSlope } from '../../physics/motor.ts';
import { IDLE_PAGE_VOLTAGE, NOMINAL_CELL } from '../../vocabulary/estimators.ts';
import { type FigureName, propertyInWords } from '../../vocabulary/properties.ts';
import type { BlockKind } from '../../vocabulary/schema.ts';
import * as modelForm from '../uncertainty/model-form.ts';
import { courseTemplate } from './course.ts';
import type { Formula, Template } from './template.ts';

/** Collects why something could not be made, first reason first. */
export class Lack {
  readonly #reasons: string[] = [];

  get reason(): string | undefined {
    return this.#reasons[0];
  }

  because(reason: string): undefined {
    this.#reasons.push(reason);
    return undefined;
  }

  /** A part's figure, declared or estimated. */
  figure<Kind extends BlockKind>(part: Part<Kind>, property: FigureName<Kind>): Figure | undefined {
    return part.figure(property) ?? this.because(`the ${propertyInWords(property)} of ${part.name} is not known`);
  }
}

export const asRead =
  (figure: Figure): Formula =>
  (read) =>
    read(figure);

export function motorTemplate(motor: Part<'motor'>, lack: Lack): Template<Motor> | undefined {
  const kv = lack.figure(motor, 'kv');
  const resistance = lack.figure(motor, 'resistance');
  const inductance = lack.figure(motor, 'inductance');
  const poles = lack.figure(motor, 'poles');
  const idle = lack.figure(motor, 'no_load_current');
  if (!kv || !resistance || !inductance || !poles || !idle) return undefined;
  const idleVoltage = idle.conditions.at;
  const usualVoltage = Math.max(IDLE_PAGE_VOLTAGE, NOMINAL_CELL * (motor.range('rated')?.high ?? 0));
  return {
    speedConstant: asRead(kv),
    resistance: (read) => read(resistance) * copperFactor(read(modelForm.WINDING_TEMPERATURE)),
    commutationSlope: (read) => commutationSlope(read(poles) / 2, read(inductance)),
    commutationLossShare: asRead(modelForm.COMMUTATION_LOSS_SHARE),
    inductance: asRead(inductance),
    noLoadCurrent: asRead(idle),
    noLoadSpeed: (read) => read(kv) * (idleVoltage ? read(idleVoltage) : usualVoltage),
  };
}

export function escTemplate(board: Part<'esc'>, lack: Lack): Template<EscChannel> | undefined {
  const resistance = lack.figure(board, 'resistance');
  const frequency = lack.figure(board, 'pwm_frequency');
  if (!resistance || !frequency) return undefined;
  return { resistance: asRead(resistance), pwmFrequency: asRead(frequency) };
}

export function propellerTemplate(
  build: Build,
  propeller: Part<'propeller'>,
  lack: Lack,
): Template<Propeller> | undefined {
  const diameter = lack.figure(propeller, 'diameter');
  const thrust = lack.figure(propeller, 'thrust_coefficient');
  const power = lack.figure(propeller, 'power_coefficient');
  if (!diameter || !thrust || !power) return undefined;
  return {
    diameter: asRead(diameter),
    thrustCoefficient: asRead(thrust),
    powerCoefficient: asRead(power),
    course: courseTemplate(build, propeller, diameter),
  };
}
