/** A small workspace of the survey group: parts, rules and a build, healthy on both packs. */
export const PARTS = `// The winding the roof-void craft flies on.
motor M1104_10500 "1104 stator" {
  kv: 10500 rpm/V +- 3 %
  resistance: 98 mohm measured "milliohm meter"
  no_load_current: 0.62 A at 7.4 V measured
  rated: 2S
  continuous: 9 A claimed
  burst: 12 A for 5 s claimed
  mass: 3.40 g measured
}

// A variant says only what differs.
motor M1104_7800 like M1104_10500 {
  kv: 7800 rpm/V
  resistance: 150 mohm measured
}

propeller P2020x3 {
  diameter: 51 mm
  pitch: 2.0 in
  blades: 3
  mass: 0.52 g measured
}

airframe Duct90 {
  rotors: 4
  guard_diameter: 54 mm
  mass: 31.5 g measured
}

item Strap { mass: 1.6 g }
`;

export const BOARDS = `esc Board18 {
  channels: 4
  cells: 2S .. 4S
  continuous: 18 A claimed
  burst: 22 A for 10 s claimed
  mass: 6.10 g measured
  rail video {
    from: pack
    type: buck
    output: 5 V
    continuous: 1.2 A
  }
}

esc Board45 like Board18 {
  continuous: 45 A
  rail video { output: 9 V }
}

load Camera { draw: 2.4 W  supply: 4.5 V .. 12 V  mass: 6.8 g measured }
`;

export const PACKS = `pack Slim480_2S {
  chemistry: lipo
  cells: 2S
  capacity: 480 mAh +- 5 % claimed
  discharge: 75C claimed
  cell_resistance: 14 mohm measured
  mass: 28.1 g measured
}

pack Slim480_3S like Slim480_2S {
  cells: 3S
  mass: 40.3 g measured
}
`;

export const RAFTER = `use "../parts"

build Rafter "Rafter, roof-void survey" {
  airframe: Duct90
  motors: 4 x M1104_10500 with P2020x3
  esc: Board18
  load: Camera from Board18.video
  item: Strap
  pack: Slim480_2S
  pack: Slim480_3S duty 66 %
  require hover_time >= 1 min because "one roof bay and back"
  require rail.video.voltage >= 4.5 V
}
`;

export const WORKSHOP = {
  'parts/motors.fettle': PARTS,
  'parts/boards.fettle': BOARDS,
  'parts/packs.fettle': PACKS,
  'builds/rafter.fettle': RAFTER,
};
