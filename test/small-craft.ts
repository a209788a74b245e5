/** A small open craft for tests that depend on single figures; each test states what it changes. Invented. */
export const SMALL_CRAFT = `airframe Open152 {
  rotors: 4
  wheelbase: 152 mm
  bay: 74 x 38 x 40 mm
  bolts: 4 x M2 on 25.5 x 25.5 mm
  mass: 47.5 g
}
motor M1506 {
  kv: 3900 rpm/V
  stator: 15 x 6 mm
  resistance: 74 mohm
  rated: 3S
  continuous: 9 A
  burst: 13 A for 5 s
  mass: 12.4 g
}
propeller P3022x3 {
  diameter: 76 mm
  pitch: 2.2 in
  blades: 3
  mass: 1.5 g
}
esc Board32 {
  channels: 4
  cells: 3S .. 6S
  continuous: 32 A
  burst: 40 A for 10 s
  bolts: 4 x M2 on 25.5 x 25.5 mm
  mass: 11.3 g
  rail video {
    from: pack
    type: buck
    output: 8 V
    continuous: 1.3 A
  }
  rail logic {
    from: pack
    type: buck
    output: 5 V
    continuous: 1 A
  }
}
load WideCam {
  draw: 4.8 W
  supply: 7.2 V .. 28 V
  mass: 16.2 g
}
load Receiver {
  draw: 70 mA
  supply: 4.5 V .. 5.5 V
  mass: 1.2 g
}
item Strap {
  mass: 0.4 g
}
pack Slim900_3S {
  chemistry: lipo
  cells: 3S
  capacity: 900 mAh
  discharge: 70C
  cell_resistance: 9 mohm measured
  size: 70 x 35 x 19 mm
  mass: 78.1 g
}
pack Slim700_5S like Slim900_3S {
  cells: 5S
  capacity: 700 mAh
  size: 66 x 34 x 26 mm
  mass: 96.5 g
}
pack Long850_8S like Slim900_3S {
  cells: 8S
  size: 72 x 36 x 38 mm
  mass: 118 g
}
pack Stick450_2S like Slim900_3S {
  cells: 2S
  size: 70 x 35 x 12 mm
  mass: 34 g
}
rules ExampleRules {
  reserve: 20 % of capacity
}
build Healthy {
  airframe: Open152
  motors: 4 x M1506 with P3022x3
  esc: Board32
  load: WideCam from Board32.video
  load: Receiver from Board32.logic
  item: Strap
  pack: Slim900_3S
}
`;
