/** A small workspace of the survey group: parts, rules and a build, healthy on both packs. */
export const PARTS = `// The winding the roof-void craft flies on.
motor M1506_3900 "1506 stator" {
  kv: 3900 rpm/V +- 3 %
  resistance: 74 mohm measured "milliohm meter"
  no_load_current: 0.86 A at 11.1 V measured
  rated: 3S
  continuous: 11 A claimed
  burst: 17 A for 5 s claimed
  mass: 12.40 g measured
}

// A variant states only what differs.
motor M1506_2400 like M1506_3900 {
  kv: 2400 rpm/V
  resistance: 188 mohm measured
}

propeller P3022x3 {
  diameter: 76 mm
  pitch: 2.2 in
  blades: 3
  mass: 1.52 g measured
}

airframe Open152 {
  rotors: 4
  wheelbase: 152 mm
  mass: 47.5 g measured
}

item Strap { mass: 1.6 g }
`;

export const BOARDS = `esc Board32 {
  channels: 4
  cells: 3S .. 6S
  continuous: 32 A claimed
  burst: 40 A for 10 s claimed
  mass: 11.30 g measured
  rail video {
    from: pack
    type: buck
    output: 5 V
    continuous: 1.4 A
  }
}

esc Board50 like Board32 {
  continuous: 50 A
  rail video { output: 8 V }
}

load Camera { draw: 3.7 W  supply: 4.5 V .. 12 V  mass: 16.2 g measured }
`;

export const PACKS = `pack Slim900_3S {
  chemistry: lipo
  cells: 3S
  capacity: 900 mAh +- 5 % claimed
  discharge: 70C claimed
  cell_resistance: 9 mohm measured
  mass: 78.1 g measured
}

pack Slim900_5S like Slim900_3S {
  cells: 5S
  mass: 126.3 g measured
}
`;

export const RAFTER = `use "../parts"

build Rafter "Rafter, roof-void survey" {
  airframe: Open152
  motors: 4 x M1506_3900 with P3022x3
  esc: Board32
  load: Camera from Board32.video
  item: Strap
  pack: Slim900_3S
  pack: Slim900_5S duty 58 %
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

/** A shortlist next to Rafter, and where it is. */
export const CHOICE = 'builds/choice.fettle';
export const SHORTLIST = `use "../parts"

shortlist Which "which pack?" {
  for: Rafter
  vary: Slim900_3S
  vary: duty 80 % .. 100 % step 10 %
  prefer: thrust_to_weight
  prefer: full_current
}
`;
