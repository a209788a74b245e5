/**
 * The first words that people of the trade write lead somewhere: the message names our word, and the first fix writes it.
 * The words are common practice in English; each is where somebody would write it.
 */
import { describe, expect, it } from 'vitest';
import { SYNONYMS } from '../../packages/language/src/vocabulary/synonyms.ts';
import { findingsIn } from './findings-in.ts';

/** Where a word was written, as a text with the word in it. */
const PLACES = {
  top: (word: string) => `${word} Some { mass: 3 g }\n`,
  file: (word: string) => `${word} "../parts"\n`,
  build: (word: string) => `build Some {\n  ${word}: 4 x Thing\n}\n`,
  require: (word: string) => `build Some {\n  require ${word} >= 3\n}\n`,
  airframe: (word: string) => `airframe Some {\n  ${word}: 3 mm\n}\n`,
  motor: (word: string) => `motor Some {\n  ${word}: 14\n}\n`,
  propeller: (word: string) => `propeller Some {\n  ${word}: 3\n}\n`,
  esc: (word: string) => `esc Some {\n  ${word}: 20 A\n}\n`,
  regulator: (word: string) => `regulator Some {\n  ${word}: 5 V\n}\n`,
  pack: (word: string) => `pack Some {\n  ${word}: 3\n}\n`,
  load: (word: string) => `load Some {\n  ${word}: 3 W\n}\n`,
  item: (word: string) => `item Some {\n  ${word}: 3 g\n}\n`,
  lead: (word: string) => `lead Some {\n  ${word}: 60 mm\n}\n`,
  mount: (word: string) => `mount Some {\n  ${word}: 3\n}\n`,
  flight: (word: string) => `flight Some {\n  ${word}: 2 min hover\n}\n`,
  rules: (word: string) => `rules Some {\n  ${word}: 20 %\n}\n`,
  observed: (word: string) => `build Some {\n  observed "a flight" {\n    ${word}: 3\n  }\n}\n`,
  rows: (word: string) => `bench Some {\n  rows duty in %, ${word} in A {\n    20, 1\n  }\n}\n`,
} as const;

/** `theirs>ours`, by place. */
const WORDS: Readonly<Record<keyof typeof PLACES, string>> = {
  top: `battery>pack batt>pack lipo_pack>pack accumulator>pack prop>propeller props>propeller airscrew>propeller
    frame>airframe chassis>airframe engine>motor brushless>motor speed_controller>esc board>esc aio>esc bec>regulator
    ubec>regulator converter>regulator step_down>regulator camera>load cam>load vtx>load video_transmitter>load receiver>load
    gps>load antenna>load payload>load gimbal>load light>load cable>lead wire>lead harness>lead strap>item hardware>item
    ballast>item canopy>item damper>mount soft_mount>mount stand>bench test_stand>bench dyno>bench drone>build quad>build
    copter>build multirotor>build craft>build policy>rules
    battery_pack>pack flight_battery>pack flight_pack>pack main_battery>pack lithium_battery>pack brushless_motor>motor
    prop_set>propeller esc_board>esc buck_converter>regulator boost_converter>regulator linear_regulator>regulator
    power_module>regulator fpv_camera>load action_cam>load thermal_camera>load video_tx>load radio_receiver>load aerial>load
    gnss>load compass>load barometer>load rangefinder>load lidar>load sonar>load beeper>load led_strip>load nav_lights>load
    landing_lights>load companion_computer>load servo>load battery_strap>item velcro>item foam>item standoffs>item spacers>item
    zip_ties>item heat_shrink>item capacitor>item prop_adapter>item undercarriage>item skids>item battery_lead>lead power_cable>lead
    silicone_wire>lead rubber_mount>mount bobbins>mount damping_balls>mount thrust_bench>bench thrust_table>bench test_data>bench
    octo>build hexa>build tricopter>build flights>flight route>flight sortie>flight flight_plan>flight quad_frame>airframe`,
  file: 'import>use include>use open>use',
  build: `battery>pack batteries>pack frame>airframe engine>motors motor>motors rotors>motors speed_controller>esc
    controller>esc bec>regulator camera>load vtx>load wires>lead strap>item dry_weight>dry_mass empty_weight>dry_mass
    top_motors>upper_motors bottom_motors>lower_motors weather>air altitude>air landing_reserve>reserve mission>flight route>flight
    waypoints>flight spares>spare battery_pack>pack fpv_camera>load brushless_motor>motors radio_receiver>load velcro>item
    ambient_temperature>air remove>without`,
  require: `auw>all_up_weight takeoff_weight>all_up_weight mtow>all_up_weight total_weight>all_up_weight twr>thrust_to_weight
    thrust_to_weight_ratio>thrust_to_weight hover_throttle>hover_duty hover_minutes>hover_time flight_minutes>flight_time
    airtime>flight_time max_thrust>full_thrust max_current>full_current total_current>full_current motor_current>full_motor_current
    max_power>full_power locked_rotor_current>stall_current landing_voltage>land_by_hover_voltage disk_loading>disc_loading
    max_wind>wind_held motor_temp>motor_temperature cog>balance_offset mach>tip_mach mah_used>charge_used
    grams_per_watt>hover_efficiency hover_amps>hover_current hover_rpm>hover_speed payload>pack_grams_left
    mtom>all_up_weight tow>all_up_weight rtf_weight>all_up_weight payload_capacity>pack_grams_left lift_capacity>pack_grams_left
    throttle_position>hover_duty flying_time>flight_time cruising_speed>range_speed low_battery_warning>land_by_hover_voltage
    warning_voltage>land_by_hover_voltage wind_resistance>wind_held max_wind_speed>wind_held total_cost>price mAh_used>charge_used
    jammed_current>stall_current max_lift>full_thrust`,
  airframe: `arms>rotors diagonal>wheelbase motor_to_motor>wheelbase prop_guard>guard_diameter duct>guard_diameter battery_bay>bay
    motor_mount>motor_bolts plate_thickness>arm_thickness bolt_length>screw_length weight>mass cost>price frontal_area>drag_area frame_diagonal>wheelbase
    duct_diameter>guard_diameter motor_bolt_circle>motor_bolts stack_size>bolts frame_weight>mass`,
  motor: `magnets>poles magnet_count>poles pole_count>poles rpm_per_volt>kv kv_rating>kv stator_size>stator
    winding_resistance>resistance phase_resistance>resistance max_current>max max_amps>max peak_current>burst continuous_current>continuous
    max_power>power cells>rated shaft_diameter>shaft weight>mass max_temp>max_temperature no_load>no_load_current io>no_load_current
    kv_value>kv stator_dimensions>stator terminal_resistance>resistance motor_resistance>resistance no_load_amps>no_load_current
    continuous_amps>continuous burst_amps>burst max_watts>power number_of_magnets>poles shaft_size>shaft motor_weight>mass bolt_circle>bolts`,
  propeller: `blade_count>blades size>diameter prop_pitch>pitch hole>bore hub_bore>bore prop_weight>mass max_rpm>max_speed ct>thrust_coefficient
    cp>power_coefficient weight>mass`,
  esc: `max_current>max amps>continuous continuous_current>continuous burst_current>burst input_voltage>supply pwm>pwm_frequency quiescent_current>standby_current
    mounting_holes>bolts on_resistance>resistance outputs>channels weight>mass
    rated_amps>continuous supply_voltage>supply vbat>supply refresh_rate>pwm_frequency pwm_freq>pwm_frequency mount_pattern>bolts`,
  regulator: `max_current>max vout>output output_voltage>output vin>supply input>supply current_rating>continuous topology>type`,
  pack: `max_current>burst c_rating>discharge c_rate>discharge discharge_rate>discharge connector>plug plug_type>plug mah>capacity
    cell_count>cells s_count>cells internal_resistance>cell_resistance ir>cell_resistance charge_cycles>cycles age>cycles
    polarity>plus weight>mass dimensions>size cost>price battery_type>chemistry
    s_rating>cells number_of_cells>cells nominal_capacity>capacity rated_capacity>capacity mAh>capacity continuous_c_rating>discharge
    max_discharge_rate>discharge burst_c_rating>burst peak_discharge>burst burst_rate>burst power_connector>plug main_plug>plug
    bullet_connector>plug battery_weight>mass battery_age>cycles charge_count>cycles`,
  load: `power>draw consumption>draw current_draw>draw max_power>peak inrush>peak input_voltage>supply weight>mass`,
  item: 'weight>mass grams>mass dimensions>size cost>price',
  lead: 'gauge>wire awg>wire len>length lead_length>length cable_length>length connector>plug polarity>plus',
  mount: 'spring_rate>stiffness damping_ratio>damping resonant_frequency>frequency weight>mass',
  flight: 'legs>leg segment>leg waypoint>leg',
  rules: 'landing_reserve>reserve weather>air max_tilt>tilt warm_up>ground mix>flown',
  observed: `auw>scale weighed>scale flight_time>airborne flying_time>airborne duration>airborne recharged>put_back charger>put_back
    hover_throttle>hover_output resting_voltage>rested bell_temperature>motor_temperature`,
  rows: 'amps>current volts>voltage throttle>duty rpm>speed force>thrust watts>power',
};

const cases = Object.entries(WORDS).flatMap(([place, words]) =>
  words
    .trim()
    .split(/\s+/)
    .map((pair) => [place as keyof typeof PLACES, ...(pair.split('>') as [string, string])] as const),
);

describe('words of the trade', () => {
  it('are at least 260', () => {
    expect(new Set(cases.map(([, word]) => word)).size).toBeGreaterThanOrEqual(260);
  });

  it.each(cases)('%s: %s is %s', async (place, word, ours) => {
    const text = PLACES[place](word);
    const start = text.indexOf(word);
    const { 'a.fettle': found = [] } = await findingsIn({ 'a.fettle': text });
    const own = found.filter((finding) => finding.place.start === start);
    expect(own.map(({ message }) => message)).toEqual([expect.stringContaining(ours)]);
    const [edit] = own[0]?.fixes[0]?.edits ?? [];
    expect(edit?.newText.replace(/:$/, '')).toBe(ours);
  });

  const inBlocks = cases.filter(
    ([place, word]) => word.includes('_') && !['top', 'file', 'require', 'rows'].includes(place),
  );

  it.each(inBlocks)('%s: %s with blanks in place of dashes is one word all the same: %s', async (place, word, ours) => {
    const words = word.replaceAll('_', ' ');
    const text = PLACES[place](words);
    const start = text.indexOf(words);
    const { 'a.fettle': found = [] } = await findingsIn({ 'a.fettle': text });
    const own = found.filter(
      ({ id, place: at }) => id !== 'former-name' && at.start >= start && at.start < start + words.length,
    );
    expect(own.map(({ message }) => message)).toEqual([expect.stringContaining(`“${words}”; did you mean ${ours}`)]);
    expect(own[0]?.fixes[0]?.edits).toMatchObject([{ place: { start, end: start + words.length }, newText: ours }]);
  });

  it.each([
    ['pole_pairs', 'motor'],
    ['storage_voltage', 'require'],
    ['power_to_weight', 'require'],
  ] as const)('%s is another quantity than any of ours: nothing is written in its place', async (word, place) => {
    const { 'a.fettle': found = [] } = await findingsIn({ 'a.fettle': PLACES[place](word) });
    const own = found.filter(({ message }) => message.includes(word));
    expect(own).toHaveLength(1);
    expect(own[0]?.fixes).toEqual([]);
  });

  it('are no words of the language themselves where they lead to another', () => {
    expect([...SYNONYMS].filter(([word, ours]) => ours.includes(word))).toEqual([]);
  });
});
