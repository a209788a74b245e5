// Written by "npm run generate" from the names in the vocabulary: a name without its file does not compile.
import type { ResultName } from '../../../vocabulary/results.ts';
import type { ResultComputation } from '../result.ts';
import { allUpWeight } from '../all-up-weight.ts';
import { balanceOffset } from '../balance-offset.ts';
import { burstCellVoltage } from '../burst-cell-voltage.ts';
import { burstCurrent } from '../burst-current.ts';
import { chargeUsed } from '../charge-used.ts';
import { discLoading } from '../disc-loading.ts';
import { dryMass } from '../dry-mass.ts';
import { effectiveKv } from '../effective-kv.ts';
import { endurance } from '../endurance.ts';
import { enduranceSpeed } from '../endurance-speed.ts';
import { flightTime } from '../flight-time.ts';
import { frontThrustShare } from '../front-thrust-share.ts';
import { fullCellVoltage } from '../full-cell-voltage.ts';
import { fullCurrent } from '../full-current.ts';
import { fullMotorCurrent } from '../full-motor-current.ts';
import { fullMotorPower } from '../full-motor-power.ts';
import { fullPower } from '../full-power.ts';
import { fullSpeed } from '../full-speed.ts';
import { fullThrust } from '../full-thrust.ts';
import { fullVoltage } from '../full-voltage.ts';
import { gramCostTime } from '../gram-cost-time.ts';
import { hoverCurrent } from '../hover-current.ts';
import { hoverDuty } from '../hover-duty.ts';
import { hoverEfficiency } from '../hover-efficiency.ts';
import { hoverPower } from '../hover-power.ts';
import { hoverSpeed } from '../hover-speed.ts';
import { hoverTime } from '../hover-time.ts';
import { landByHoverVoltage } from '../land-by-hover-voltage.ts';
import { landByRestingVoltage } from '../land-by-resting-voltage.ts';
import { motorTemperature } from '../motor-temperature.ts';
import { mountFrequency } from '../mount-frequency.ts';
import { mountTransmissibility } from '../mount-transmissibility.ts';
import { noLoadSpeed } from '../no-load-speed.ts';
import { packBalancePosition } from '../pack-balance-position.ts';
import { packGramsLeft } from '../pack-grams-left.ts';
import { packMassFraction } from '../pack-mass-fraction.ts';
import { price } from '../price.ts';
import { range } from '../range.ts';
import { rangeSpeed } from '../range-speed.ts';
import { reserveCellVoltage } from '../reserve-cell-voltage.ts';
import { reserveHoverDuty } from '../reserve-hover-duty.ts';
import { reserveThrustToWeight } from '../reserve-thrust-to-weight.ts';
import { stallCurrent } from '../stall-current.ts';
import { stallRatio } from '../stall-ratio.ts';
import { thrustToWeight } from '../thrust-to-weight.ts';
import { tipMach } from '../tip-mach.ts';
import { tipSpeed } from '../tip-speed.ts';
import { windHeld } from '../wind-held.ts';

export const RESULT_COMPUTATIONS: Readonly<Record<ResultName, ResultComputation>> = {
  'all_up_weight': allUpWeight,
  'dry_mass': dryMass,
  'pack_mass_fraction': packMassFraction,
  'gram_cost_time': gramCostTime,
  'no_load_speed': noLoadSpeed,
  'effective_kv': effectiveKv,
  'hover_speed': hoverSpeed,
  'hover_duty': hoverDuty,
  'hover_current': hoverCurrent,
  'hover_power': hoverPower,
  'hover_efficiency': hoverEfficiency,
  'hover_time': hoverTime,
  'flight_time': flightTime,
  'charge_used': chargeUsed,
  'full_voltage': fullVoltage,
  'full_cell_voltage': fullCellVoltage,
  'full_current': fullCurrent,
  'full_motor_current': fullMotorCurrent,
  'full_motor_power': fullMotorPower,
  'full_power': fullPower,
  'full_thrust': fullThrust,
  'full_speed': fullSpeed,
  'tip_speed': tipSpeed,
  'tip_mach': tipMach,
  'thrust_to_weight': thrustToWeight,
  'reserve_cell_voltage': reserveCellVoltage,
  'reserve_thrust_to_weight': reserveThrustToWeight,
  'reserve_hover_duty': reserveHoverDuty,
  'burst_current': burstCurrent,
  'burst_cell_voltage': burstCellVoltage,
  'disc_loading': discLoading,
  'stall_current': stallCurrent,
  'stall_ratio': stallRatio,
  'land_by_hover_voltage': landByHoverVoltage,
  'land_by_resting_voltage': landByRestingVoltage,
  'wind_held': windHeld,
  'endurance_speed': enduranceSpeed,
  endurance,
  'range_speed': rangeSpeed,
  range,
  'motor_temperature': motorTemperature,
  'pack_grams_left': packGramsLeft,
  'balance_offset': balanceOffset,
  'front_thrust_share': frontThrustShare,
  'pack_balance_position': packBalancePosition,
  'mount_frequency': mountFrequency,
  'mount_transmissibility': mountTransmissibility,
  price,
};
