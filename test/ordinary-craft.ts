/** Ordinary craft from page figures, over the whole range. Invented; figures as practice knows them. */
export const ORDINARY: readonly { name: string; text: string; expected: Record<string, readonly [number, number]> }[] =
  [
    {
      name: 'a ducted 65 mm craft on a single high-voltage cell',
      text: `
motor M0802 { stator: 8 x 2 mm  kv: 19000 rpm/V  rated: 1S  mass: 1.9 g }
propeller P31 { diameter: 31 mm  blades: 4  mass: 0.25 g }
esc Uno { channels: 4  cells: 1S  continuous: 5 A  mass: 3.6 g }
airframe Ring65 { guard: 33 mm  mass: 4.2 g }
load Cam { draw: 1.2 W  supply: 2.9 V .. 5 V  mass: 1.6 g }
pack Stick { chemistry: lihv  cells: 1S  capacity: 300 mAh  discharge: 40C  mass: 7.8 g }
build Wren {
  airframe: Ring65  motors: 4 x M0802 with P31  esc: Uno  load: Cam  pack: Stick  item: 0.8 g "antenna, tape"
}`,
      expected: {
        all_up_weight: [24e-3, 32e-3],
        hover_time: [150, 420],
        thrust_to_weight: [1.7, 4.5],
        full_motor_current: [1.8, 6],
      },
    },
    {
      name: 'a ducted 90 mm craft on 2S',
      text: `
motor M1104 { stator: 11 x 4 mm  kv: 8500 rpm/V  rated: 2S  mass: 5.6 g }
propeller P51 { diameter: 51 mm  pitch: 2 in  blades: 4  mass: 0.8 g }
esc Board { channels: 4  cells: 2S .. 4S  continuous: 20 A  mass: 7 g }
airframe Duct90 { guard: 53 mm  mass: 27 g }
load Cam { draw: 4.5 W  supply: 4.5 V .. 26 V  mass: 9 g }
pack P550 { cells: 2S  capacity: 550 mAh  discharge: 75C  mass: 31 g }
build Rafter { airframe: Duct90  motors: 4 x M1104 with P51  esc: Board  load: Cam  pack: P550  item: 3 g "strap, tape" }`,
      expected: {
        all_up_weight: [98e-3, 108e-3],
        hover_time: [150, 420],
        thrust_to_weight: [2.5, 6.5],
        full_motor_current: [5, 14],
      },
    },
    {
      name: 'an open 3-inch craft on 4S',
      text: `
motor M1507 { stator: 15 x 7 mm  kv: 3800 rpm/V  rated: 4S  mass: 13.2 g }
propeller P76 { diameter: 3 in  pitch: 2.5 in  blades: 3  mass: 1.5 g }
esc Board { channels: 4  cells: 3S .. 6S  continuous: 35 A  mass: 10 g }
airframe Three { mass: 42 g }
load Cam { draw: 7 W  supply: 7 V .. 26 V  mass: 20 g }
pack P850 { cells: 4S  capacity: 850 mAh  discharge: 95C  mass: 98 g }
build Spire { airframe: Three  motors: 4 x M1507 with P76  esc: Board  load: Cam  pack: P850  item: 5 g "strap" }`,
      expected: {
        all_up_weight: [230e-3, 250e-3],
        hover_time: [360, 840],
        thrust_to_weight: [3.5, 9],
        full_motor_current: [8, 22],
      },
    },
    {
      name: 'an open 5-inch craft on 6S',
      text: `
motor M2207 { stator: 22 x 7 mm  kv: 1850 rpm/V  rated: 6S  mass: 33 g }
propeller P129 { diameter: 5.1 in  pitch: 4 in  blades: 3  mass: 4.2 g }
esc Board { channels: 4  cells: 4S .. 6S  continuous: 50 A  mass: 15 g }
airframe Five { mass: 110 g }
load Cam { draw: 8 W  supply: 7 V .. 28 V  mass: 40 g }
pack P1300 { cells: 6S  capacity: 1300 mAh  discharge: 100C  mass: 210 g }
build Kestrel { airframe: Five  motors: 4 x M2207 with P129  esc: Board  load: Cam  pack: P1300  item: 20 g "antennas, screws" }`,
      expected: {
        all_up_weight: [530e-3, 570e-3],
        hover_time: [330, 840],
        thrust_to_weight: [5, 14],
        full_motor_current: [22, 48],
      },
    },
    {
      name: 'a 7-inch craft for long flights on round cells',
      text: `
motor M2806 { stator: 28 x 6.5 mm  kv: 1300 rpm/V  rated: 6S  mass: 47 g }
propeller P178 { diameter: 7 in  pitch: 3.5 in  blades: 3  mass: 8 g }
esc Board { channels: 4  cells: 4S .. 6S  continuous: 50 A  mass: 15 g }
airframe Seven { mass: 150 g }
load Cam { draw: 8 W  supply: 7 V .. 28 V  mass: 60 g }
pack Round { chemistry: liion  cells: 6S1P  capacity: 4000 mAh  discharge: 35 A  mass: 440 g }
build Rook { airframe: Seven  motors: 4 x M2806 with P178  esc: Board  load: Cam  pack: Round  item: 25 g "antennas, screws" }`,
      expected: {
        all_up_weight: [880e-3, 930e-3],
        hover_time: [1080, 2400],
        thrust_to_weight: [2, 7],
        full_motor_current: [10, 45],
      },
    },
    {
      name: 'eight rotors in stacked pairs, 2.5 kg',
      text: `
motor M2812 { stator: 28 x 12 mm  kv: 900 rpm/V  rated: 6S  mass: 72 g }
propeller P203 { diameter: 8 in  pitch: 4.5 in  blades: 3  mass: 12 g }
esc Board { channels: 4  cells: 4S .. 6S  continuous: 50 A  mass: 16 g }
airframe Tower { mass: 480 g }
load Cam { draw: 20 W  supply: 9 V .. 28 V  mass: 400 g }
pack Big { cells: 6S  capacity: 5200 mAh  discharge: 60C  mass: 720 g }
build Belfry {
  airframe: Tower  upper_motors: 4 x M2812 with P203  lower_motors: 4 x M2812 with P203
  esc: Board as Top  esc: Board as Bottom  load: Cam  pack: Big  item: 60 g "wires, screws"
}`,
      expected: {
        all_up_weight: [2.3, 2.5],
        hover_time: [480, 1200],
        thrust_to_weight: [2.5, 8],
        full_motor_current: [15, 45],
      },
    },
  ];
