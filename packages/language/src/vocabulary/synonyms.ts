/**
 * Words of the trade where the language has another word: `battery` for `pack`, `throttle` for `duty`. One table for messages,
 * quick fixes, completion, symbol search and the reference's index. Common practice.
 *
 * A word leads to kinds, properties, results, choices, columns of a stand or words of sentences; of several the first that may
 * be where it was written is meant. Only words that mean the same quantity are here: a near miss would mend a line wrongly.
 */
import { nearest } from '../units/nearest.ts';
import { BLOCK_KINDS, schemaOf } from './properties.ts';
import type { BlockKind } from './schema.ts';

/** Our word, then what else people write for it: lower case, words joined by `_`. */
const ALSO_CALLED: Readonly<Record<string, string>> = {
  // ---- kinds, and the lines of a build that name one ----
  airframe: 'frame chassis body fuselage frame_kit frame_set quad_frame drone_frame',
  motor: 'engine bldc brushless outrunner brushless_motor bldc_motor electric_motor',
  motors:
    'engine engines motor rotor rotors bldc brushless outrunner brushless_motor bldc_motor electric_motor motor_type',
  propeller:
    'prop props propellor propellors airscrew rotor_blade blade_set prop_set propeller_blades triblade tri_blade biblade bi_blade',
  esc: 'escs speed_controller speed_control speedcontroller electronic_speed_controller motor_controller controller board aio all_in_one four_in_one 4in1 fc flight_controller stack 4_in_1 esc_board power_board',
  regulator:
    'bec ubec sbec dcdc dc_dc converter voltage_regulator step_down step_up psu power_supply buck_converter boost_converter voltage_converter linear_regulator switching_regulator power_module',
  pack: 'battery batteries batt bat lipo_pack accumulator accu akku cell_pack power_pack pack_option battery_pack flight_battery flight_pack main_battery lithium_battery lipo_battery li_po_battery powerpack',
  load: 'camera cam vtx video_transmitter transmitter receiver rx gps antenna payload electronics consumer led leds lamp light lights beacon buzzer gimbal sensor telemetry radio device flight_controller fc fpv_camera hd_camera action_camera action_cam thermal_camera video_tx radio_receiver aerial gnss compass magnetometer barometer rangefinder lidar sonar beeper led_strip nav_lights position_lights landing_light landing_lights companion_computer servo transponder',
  item: 'hardware extras extra misc miscellaneous accessory accessories strap straps screws bolts_and_nuts tape canopy cover landing_gear legs antenna ballast payload battery_strap velcro foam standoff standoffs spacer spacers zip_ties cable_ties heat_shrink heatshrink capacitor cap prop_nut prop_adapter spinner skids undercarriage bumper bumpers solder glue',
  lead: 'cable cables wire wires wiring harness power_lead pigtail main_lead extension silicone_wire discharge_lead battery_lead power_cable power_wire power_wires main_wires',
  mount:
    'damper dampers soft_mount camera_mount isolator vibration_mount grommet grommets gimbal rubber_mount vibration_damper bobbin bobbins damping_balls rubber_balls isolators',
  bench:
    'stand test_stand thrust_stand thrust_test dyno bench_test motor_test thrust_bench thrust_data thrust_table test_data bench_data motor_data static_test test_rig',
  rules: 'policy standards requirements guidelines house_rules defaults settings',
  build:
    'craft drone quad quadcopter copter multirotor multicopter hexacopter octocopter aircraft uav uas vehicle model project setup octo hexa tricopter hexa_copter octo_copter x8 y6 machine',
  rail: 'bec output_rail voltage_rail supply_rail power_rail',
  observed:
    'flight_log log measured_flight observation measurement measurements test_flight flight_data telemetry_log test_hover',
  flight: 'flights mission route sortie waypoints flight_plan flight_path trip patrol',

  // ---- properties ----
  rotors: 'arms motor_count rotor_count number_of_motors',
  wheelbase: 'motor_to_motor diagonal motor_distance motor_spacing frame_size diagonal_wheelbase frame_diagonal',
  guard_diameter: 'guard duct ducts prop_guard propeller_guard shroud ring cage duct_diameter guard_size',
  bay: 'battery_bay battery_tray pack_bay tray compartment',
  bolts:
    'mounting_holes mounting_pattern hole_pattern bolt_pattern mounting hole_spacing stack_mount mount_pattern bolt_circle bolt_spacing stack_size',
  motor_bolts: 'motor_mount motor_mounting motor_pattern motor_holes motor_bolt_pattern motor_bolt_circle bolt_circle',
  arm_thickness: 'plate_thickness',
  screw_length: 'screw bolt_length',
  screw_depth: 'screw screw_reach max_screw_length',
  drag_area: 'cda frontal_area drag',
  kv: 'rpm_per_volt velocity_constant kv_rating motor_kv speed_constant kv_value',
  stator: 'stator_size motor_size size stator_dimensions stator_diameter',
  resistance:
    'internal_resistance ir winding_resistance phase_resistance rm ri ohms r_ds_on rdson on_resistance motor_resistance terminal_resistance coil_resistance',
  no_load_current: 'io i0 idle_current noload_current no_load idle_amps no_load_amps zero_load_current',
  standby_current: 'idle_current quiescent quiescent_current standby',
  rated: 'cells rated_cells rated_voltage cell_count voltage max_cells recommended_cells',
  continuous:
    'continuous_current current_rating amps amp_rating rated_current constant_current cont max_continuous max_continuous_current continuous_amps cont_current rated_amps continuous_rating max_cont_current',
  burst:
    'burst_current peak_current max_current surge burst_rating peak_amps max_amps burst_amps burst_rate burst_c burst_c_rating peak_discharge max_burst burst_discharge',
  max: 'max_current max_amps maximum_current maximum max_rating',
  power: 'max_power watts wattage peak_power power_rating max_watts motor_power power_limit',
  poles: 'magnets magnet_count pole_count magnet_poles rotor_poles number_of_poles number_of_magnets',
  thermal_resistance: 'rth r_th cooling heat_sink heatsink',
  max_temperature: 'max_temp temperature_limit maximum_temperature temp_limit',
  shaft: 'shaft_diameter axle prop_shaft shaft_size motor_shaft',
  mass: 'weight weigh grams weighs wt mass_g motor_weight prop_weight battery_weight frame_weight weight_g',
  price: 'cost costs total_cost',
  diameter: 'size prop_size disc_diameter disk_diameter prop_diameter',
  pitch: 'advance prop_pitch blade_pitch',
  blades: 'blade blade_count number_of_blades',
  bore: 'hole hub_hole centre_hole center_hole hub_bore mounting_hole shaft_hole',
  max_speed: 'max_rpm rpm_limit top_rpm maximum_rpm rpm_max',
  thrust_coefficient: 'ct c_t',
  power_coefficient: 'cp c_p',
  channels: 'outputs motor_outputs motor_count number_of_channels',
  cells: 'cell_count s_count series cell voltage cells_in_series lipo_cells s_rating number_of_cells',
  supply: 'input input_voltage vin voltage_range input_range operating_voltage voltage vcc supply_voltage vbat vbatt',
  pwm_frequency: 'pwm pwm_rate frequency switching_frequency pwm_freq refresh_rate',
  output: 'vout output_voltage voltage',
  dropout: 'dropout_voltage headroom',
  efficiency: 'eta',
  type: 'topology kind',
  chemistry: 'battery_type battery_chemistry cell_type',
  capacity: 'mah ah charge battery_size battery_capacity milliamp_hours rated_capacity nominal_capacity',
  discharge:
    'c_rating c c_rate discharge_rate discharge_rating max_discharge continuous_discharge rating continuous_c continuous_c_rating max_discharge_rate max_continuous_discharge discharge_current',
  cell_resistance: 'ir internal_resistance resistance cell_ir esr milliohms',
  cycles: 'age charge_cycles wear cycle_count battery_age charge_count',
  plug: 'connector plug_type connector_type battery_connector power_connector main_plug discharge_plug bullet_connector power_plug',
  plus: 'polarity positive',
  draw: 'power amp_draw consumption power_draw current watts wattage power_consumption load current_draw amps',
  peak: 'max_power max_draw surge inrush peak_power max_current',
  size: 'dimensions dims dimension measurements outline',
  length: 'len distance wire_length lead_length cable_length',
  wire: 'gauge awg wire_gauge wire_size cross_section',
  stiffness: 'spring_constant spring_rate spring',
  damping: 'damping_ratio zeta',
  frequency: 'resonance natural_frequency resonant_frequency',
  reserve: 'landing_reserve safety_margin minimum_charge left_over soc_min',
  air: 'weather temperature altitude ambient conditions density_altitude elevation ambient_temperature air_temperature outside_temperature',
  flown: 'profile flight_profile flying_style usage mix',
  ground: 'ground_time warm_up warmup on_the_ground time_on_ground arming_time',
  tilt: 'max_tilt tilt_angle lean angle max_angle bank_angle',
  dry_mass: 'dry_weight weight_without_battery empty_weight mass_without_pack empty_mass weight_dry',
  leg: 'legs segment waypoint stage',
  spare: 'spares spare_parts replacement',
  upper_motors: 'top_motors upper_rotors',
  lower_motors: 'bottom_motors lower_rotors',
  without: 'remove minus except exclude',
  scale: 'weighed auw all_up_weight takeoff_weight weight mass total_weight',
  airborne: 'flight_time time_in_air air_time duration minutes flight_minutes flew flying_time time_flown',
  put_back: 'charged recharged mah_charged charger mah_back charge_put_back',
  rested: 'resting_voltage rest_voltage voltage_after landing_voltage',
  hover_output: 'hover_throttle throttle hover_duty',
  motor_temperature: 'motor_temp bell_temperature temp winding_temperature coil_temperature',

  // ---- results ----
  all_up_weight:
    'auw takeoff_weight take_off_weight total_weight flying_weight mtow weight total_mass gross_weight all_up_mass takeoff_mass mtom tow rtf_weight ready_to_fly_weight take_off_mass flight_weight',
  pack_mass_fraction: 'battery_fraction pack_fraction battery_mass_fraction',
  no_load_speed: 'unloaded_rpm free_speed no_load_rpm',
  effective_kv: 'kv true_kv',
  hover_speed: 'hover_rpm',
  hover_duty: 'hover_throttle hover_output throttle throttle_position hover_throttle_percent',
  hover_current: 'hover_amps',
  hover_power: 'hover_watts',
  hover_efficiency: 'efficiency grams_per_watt g_per_w gw',
  hover_time: 'hover_minutes endurance hover_duration',
  flight_time: 'flight_minutes endurance minutes air_time flight_duration duration airtime flying_time',
  charge_used: 'mah_used capacity_used used_capacity consumed',
  full_voltage: 'sag_voltage loaded_voltage voltage_under_load',
  full_current: 'max_current peak_current total_current current_draw max_amps full_throttle_current',
  full_motor_current: 'max_current max_amps motor_current max_motor_current amps_per_motor current_per_motor',
  full_motor_power: 'motor_power watts_per_motor power_per_motor max_motor_power',
  full_power: 'max_power peak_power total_power full_throttle_power',
  full_thrust: 'max_thrust thrust total_thrust static_thrust peak_thrust max_lift lift',
  full_speed: 'max_rpm full_rpm',
  tip_mach: 'mach mach_number tip_mach_number',
  thrust_to_weight: 'twr tw t_w thrust_weight_ratio thrust_to_weight_ratio thrust_ratio',
  disc_loading: 'disk_loading loading',
  stall_current: 'blocked_rotor_current stalled_current locked_rotor_current jam_current jammed_current',
  land_by_hover_voltage:
    'landing_voltage land_voltage low_voltage_cutoff lvc cutoff_voltage cut_off_voltage cutoff min_voltage low_voltage_cut_off warning_voltage low_battery_warning low_voltage_alarm alarm_voltage',
  land_by_resting_voltage: 'resting_landing_voltage',
  endurance: 'loiter_time max_endurance',
  endurance_speed: 'loiter_speed best_endurance_speed',
  range: 'max_range distance max_distance',
  range_speed: 'cruise_speed best_range_speed cruising_speed',
  wind_held: 'max_wind wind wind_speed wind_limit wind_resistance max_wind_speed wind_tolerance',
  pack_grams_left: 'payload max_payload battery_budget grams_left payload_capacity lift_capacity',
  balance_offset: 'cg cog centre_of_gravity center_of_gravity balance centre_of_mass center_of_mass',
  mount_frequency: 'resonance natural_frequency resonant_frequency',
  mount_transmissibility: 'transmissibility vibration',

  // ---- choices, columns and words of sentences ----
  lipo: 'lithium_polymer li_po lipoly',
  lihv: 'hv lipo_hv lihv_lipo high_voltage lipohv hv_lipo',
  liion: 'li_ion lithium_ion round_cells 18650 21700 ion',
  buck: 'stepdown step_down',
  boost: 'stepup step_up',
  buck_boost: 'buckboost step_up_down',
  linear: 'ldo',
  duty: 'throttle throttle_limit duty_limit output_limit motor_limit throttle_percent duty_cycle throttle_cap max_throttle motor_output_limit',
  current: 'amps amperes ampere i',
  voltage: 'volts volt v u',
  thrust: 'force lift pull',
  speed: 'rpm revs rotation_speed',
  torque: 'moment',
  temperature: 'temp',
  require: 'assert must ensure expect needs want requirement constraint limit',
  accept: 'ignore suppress allow waive silence',
  note: 'comment remark memo todo notes',
  use: 'import include from open load_file require_file',
  like: 'extends inherits based_on copy_of',
  claimed: 'advertised nominal datasheet data_sheet spec specified',
  measured: 'tested weighed',
  estimated: 'guess guessed approx assumed',
};

/** Each synonym with our words for it, in the order of the table. */
export const SYNONYMS: ReadonlyMap<string, readonly string[]> = (() => {
  const table = new Map<string, string[]>();
  for (const [ours, theirs] of Object.entries(ALSO_CALLED)) {
    for (const word of theirs.split(' ')) table.set(word, [...(table.get(word) ?? []), ours]);
  }
  return table;
})();

/** What else is written for one of our words; none for a word of no synonym. */
export function synonymsOf(ours: string): readonly string[] {
  return Object.hasOwn(ALSO_CALLED, ours) ? (ALSO_CALLED[ours]?.split(' ') ?? []) : [];
}

/** `No-load current`, `noLoadCurrent` and `no_load_current` are one word; so are `mAh` and `mah`. */
function folded(word: string): string {
  return word
    .replace(/([a-z])([A-Z])(?=[a-z])/g, '$1_$2')
    .toLowerCase()
    .replace(/[\s-]+/g, '_')
    .replace(/\bm_ah(?=_|$)/, 'mah');
}

/** Our words for what the trade calls `word`, whether or not they are allowed where it was written. */
export function translations(word: string): readonly string[] {
  const own = folded(word);
  return SYNONYMS.get(own) ?? (own.endsWith('s') ? SYNONYMS.get(own.slice(0, -1)) : undefined) ?? [];
}

/** Those of them that are known in a place. A maximum has no stated time: it is a burst rating only of what has no property of its own for it. */
export function oursAmong(word: string, isKnown: (ours: string) => boolean): readonly string[] {
  const stated = translations(word);
  const isMaximum = stated.includes('max') && isKnown('max');
  return stated.filter((ours) => isKnown(ours) && !(ours === 'burst' && isMaximum));
}

/**
 * The words of `candidates` that somebody probably meant by `word`, likeliest first, at most `limit`: the same word in another
 * spelling, what the trade calls so, else what is spelt alike.
 */
export function meant(word: string, candidates: Iterable<string>, limit = 3): string[] {
  const known = new Set(candidates);
  known.delete(word);
  const respelt = [...known].filter((candidate) => candidate.toLowerCase() === folded(word));
  const stated = translations(word);
  const fitting = [...new Set([...respelt, ...oursAmong(word, (ours) => known.has(ours))])];
  // A word of the trade that has its place elsewhere is not misspelt.
  const alike = stated.length > 0 ? [] : nearest(word, known, limit);
  return (fitting.length > 0 ? fitting : alike).slice(0, limit);
}

/** Blocks that have a property of this name, or of the name that the trade's word has here. */
export function homesOf(word: string): readonly { readonly kind: BlockKind; readonly ours: string }[] {
  return [word, ...translations(word)].flatMap((ours) =>
    BLOCK_KINDS.filter((kind) => Object.hasOwn(schemaOf(kind).properties, ours)).map((kind) => ({ kind, ours })),
  );
}
