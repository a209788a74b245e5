/** Lines of a build or a shortlist that are typed wrongly, each with what is stated of it. */
type Wrong = readonly [line: string, message: RegExp];

/** Requirements. */
export const KEPT: readonly Wrong[] = [
  ['hover_time >= 6', /a unit is needed: hover_time is a time/],
  ['hover_time', /compare it with something: >= or <= and a value/],
  ['', /require what\? for instance: require hover_time >= 4 min/],
  ['thrust_to_weight >= 3 and', /something is missing after and/],
  ['motor_current <= 8 A', /did you mean full_motor_current\?/],
  ['max_current <= 8 A', /did you mean full_current or full_motor_current\?/],
  ['hover_tim >= 3 min', /no such result: hover_tim; did you mean hover_time\?/],
  ['rail.nix.voltage >= 3 V', /no rail called nix in this build; known here: Board35, logic/],
  ['flight.Nowhere.charge_left >= 30 %', /no flight called Nowhere in this build; known here: FarBay/],
  ['flight.FarBay.charge_lef >= 30 %', /no such result of a flight: charge_lef; did you mean charge_left/],
];

/** Lines of a build. */
export const TRIED: readonly Wrong[] = [
  ['item: 300', /300 of what\?/],
  ['item: 30 mm', /expected a mass \(g, kg, oz\), found/],
  ['item 300 g', /state a line as in a build, such as `item: 300 g`/],
  ['', /state a line as in a build/],
  ['heavier', /state a line as in a build, such as `item: 300 g`/],
  ['pack: Nope', /no such pack: Nope/],
  ['pack: Mast1050_4', /no such pack: Mast1050_4; did you mean Mast1050_4S/],
  ['motor.kv: 2650', /a unit is needed: 2650 rpm\/V\?/],
  ['motor.kv: 2650 kV', /kV is a voltage/],
  ['motor.kw: 2650 rpm/V', /neither a build nor a part of this one has `kw`/],
  ['camera.mass: 3 g', /the build has no part camera/],
  ['duty: 80 %', /a duty limit belongs to a pack: `pack: NAME duty 80 %`/],
  ['duty 80 %', /`pack: Mast1350_4S`/],
  ['leg: 3 min hover', /write a `flight` with all its legs in a file, and try `flight: NAME`/],
  ['mass: 20 g', /several parts state their mass: state whose, as `airframe\.mass`, `motor\.mass`/],
  ['pack: Mast1050_4S duty 180 %', /a duty limit lies between 1 % and 100 %/],
  ['pack: Mast1050_4S}', /state one line of a build, without braces or comments/],
  ['item: 3 g }', /without braces or comments/],
  ['motors: 4 x M1606_3150', /with which propeller\? with and its name/],
  ['flight: Nope', /no such flight: Nope/],
  ['without: Nope', /nothing called Nope comes from Spire/],
  ['require hover_time >= 3', /a unit is needed: hover_time is a time/],
];

/** What is varied, preferred and required. */
export const VARIED: readonly (readonly [
  asked: readonly [vary: string, prefer?: string, require?: string],
  message: RegExp,
])[] = [
  [['Mast720_4S, Mast1350_4S'], /one statement per line: write the line again for the next/],
  [['Mast720_4S }'], /state each option as one line, without braces or comments/],
  [['pack'], /which pack\? `pack in "\.\.\/parts"`/],
  [['pack Mast720_4S'], /a part is tried by its name alone: vary: Mast720_4S/],
  [['pack M1606_3150'], /M1606_3150 is a motor, expected a pack/],
  [['Mast9999'], /no such part or figure: Mast9999/],
  [['Mast1050'], /no such part or figure: Mast1050; did you mean Mast1050_4S\?/],
  [['Strap'], /Strap is an item, expected/],
  [['duty 70 .. 100'], /duty is given in %: `duty 60 % \.\. 100 % step 5 %`/],
  [['duty 3 V .. 5 V'], /duty is given in %/],
  [['duty 70 % .. 100 % step 0 %'], /the step of duty is more than nothing/],
  [['duty 100 % .. 70 %'], /ends higher than it begins/],
  [['duty 80 %'], /duty is tried over a range: `duty 60 % \.\. 100 % step 5 %`/],
  [['capacity in 600 g .. 900 g'], /capacity is given in mAh/],
  [['mass in 60 g .. 90 g'], /mass of what\? `mass of pack`/],
  [['pack in "../nothing"'], /there is no pack in "\.\.\/nothing": is it opened with use/],
  [['battery in "../parts"'], /no such part or figure: battery; did you mean pack\?/],
  [['Mast720_4S', 'hover_tim'], /no such .*hover_tim; did you mean hover_time\?/],
  [['Mast720_4S', 'less hover_time'], /less of hover_time cannot be preferred: of it more is better/],
  [['Mast720_4S', 'flight.Nowhere.charge_left'], /makes no flight Nowhere: its flights are FarBay/],
  [['Mast720_4S', 'hover_time', 'hover_time'], /compare it with something/],
  [['Mast720_4S', 'hover_time', 'all_up_weight <= 3 s'], /these cannot be compared/],
];
