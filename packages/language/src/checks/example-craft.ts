/** The healthy craft with which every reference page's examples are written. Invented, from figures as they are on data sheets. */
export const EXAMPLE_CRAFT = `airframe Guard196 {
  rotors: 4
  wheelbase: 196 mm
  guard_diameter: 107 mm
  bay: 84 x 40 x 36 mm
  bolts: 4 x M2 on 25.5 x 25.5 mm
  mass: 64 g
}
motor M1805 {
  kv: 2550 rpm/V
  stator: 18 x 5 mm
  resistance: 108 mohm
  rated: 4S
  continuous: 10 A
  burst: 16 A for 8 s
  mass: 17.5 g
}
propeller P4024x3 {
  diameter: 102 mm
  pitch: 2.4 in
  blades: 3
  mass: 2.6 g
}
esc Board28 {
  channels: 4
  cells: 3S .. 5S
  continuous: 28 A
  burst: 34 A for 8 s
  bolts: 4 x M2 on 25.5 x 25.5 mm
  mass: 10.8 g
  rail camera {
    from: pack
    type: buck
    output: 8 V
    continuous: 1.4 A
  }
  rail logic {
    from: pack
    type: buck
    output: 5 V
    continuous: 1.1 A
  }
}
load LinkCam {
  draw: 5.8 W
  supply: 5.5 V .. 26 V
  mass: 21 g
}
load Receiver {
  draw: 85 mA
  supply: 4.5 V .. 5.5 V
  mass: 1.3 g
}
item Strap {
  mass: 1.1 g
}
pack Mast900_4S {
  chemistry: lipo
  cells: 4S
  capacity: 900 mAh
  discharge: 80C
  cell_resistance: 9.4 mohm measured
  size: 70 x 35 x 25 mm
  mass: 105 g
}
pack Mast800_5S like Mast900_4S {
  chemistry: lihv
  cells: 5S
  capacity: 800 mAh
  size: 70 x 35 x 30 mm
  mass: 118 g
}
pack Mast700_6S like Mast900_4S {
  cells: 6S
  capacity: 700 mAh
  size: 70 x 35 x 34 mm
  mass: 126 g
}
pack Mast1800_2S like Mast900_4S {
  cells: 2S
  capacity: 1800 mAh
  cell_resistance: 5 mohm measured
  mass: 103 g
}
rules ExampleRules {
  reserve: 20 % of capacity
}
build Healthy {
  airframe: Guard196
  motors: 4 x M1805 with P4024x3
  esc: Board28
  load: LinkCam from Board28.camera
  load: Receiver from Board28.logic
  item: Strap
  pack: Mast900_4S
}
`;
