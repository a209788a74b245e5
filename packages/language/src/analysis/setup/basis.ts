/** Which width the model's own term for full duty has for a build: what its motors are known by decides. */
import type { Build, Figure, RotorLine } from '../../model/build.ts';
import { fullDutyAgreement } from '../uncertainty/model-form.ts';

/** As the rotors of a build are known: the least known one decides. */
export function fullDutyOf(build: Build): Figure {
  return fullDutyAgreement(build.rotors.every(isResistanceKnown) ? 'resistance' : 'size');
}

const isResistanceKnown = ({ motor }: RotorLine): boolean => motor.declared('resistance') !== undefined;
