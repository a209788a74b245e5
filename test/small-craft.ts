/** A small craft for tests that turn on single figures: what is changed about it stands in each test. Invented. */
export const SMALL_CRAFT = `airframe Duct90 {
  rotors: 4
  wheelbase: 90 mm
  guard: 54 mm
  bay: 64 x 20 x 24 mm
  bolts: 4 x M2 on 25.5 x 25.5 mm
  mass: 31.5 g
}
motor M1104 {
  kv: 10500 rpm/V
  stator: 11 x 4 mm
  resistance: 98 mohm
  rated: 2S
  continuous: 9 A
  burst: 12 A for 5 s
  mass: 3.4 g
}
propeller P2020x3 {
  diameter: 51 mm
  pitch: 2 in
  blades: 3
  mass: 0.5 g
}
esc Board20 {
  channels: 4
  cells: 2S .. 4S
  continuous: 20 A
  burst: 25 A for 10 s
  bolts: 4 x M2 on 25.5 x 25.5 mm
  mass: 6.1 g
  rail video {
    from: pack
    type: buck
    output: 5 V
    continuous: 2 A
  }
  rail logic {
    from: pack
    type: buck
    output: 5 V
    continuous: 1 A
  }
}
load WideCam {
  draw: 3 W
  supply: 4.5 V .. 26 V
  mass: 6.8 g
}
load Receiver {
  draw: 70 mA
  supply: 4.5 V .. 5.5 V
  mass: 0.9 g
}
item Strap {
  mass: 0.4 g
}
pack Slim480_2S {
  chemistry: lipo
  cells: 2S
  capacity: 480 mAh
  discharge: 75C
  cell_resistance: 14 mohm measured
  size: 61 x 18 x 14 mm
  mass: 28.1 g
}
pack Slim420_3S like Slim480_2S {
  cells: 3S
  capacity: 420 mAh
  size: 61 x 18 x 21 mm
  mass: 36.5 g
}
pack Long850_6S like Slim480_2S {
  cells: 6S
  size: 62 x 19 x 23 mm
  mass: 62 g
}
pack Stick450_1S like Slim480_2S {
  cells: 1S
  size: 61 x 18 x 7 mm
  mass: 13 g
}
rules ExampleRules {
  reserve: 20 % of capacity
}
build Healthy {
  airframe: Duct90
  motors: 4 x M1104 with P2020x3
  esc: Board20
  load: WideCam from Board20.video
  load: Receiver from Board20.logic
  item: Strap
  pack: Slim480_2S
}
`;
