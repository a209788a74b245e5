/** What would be found with a part as it was before: the rest of the craft is as it is now. */
import { describe, expect, it } from 'vitest';
import { CRAFT } from './rooftop-craft.ts';
import { Change } from './texts-under-review.ts';

const RAFTER = 'builds/rafter.fettle';
const OTHERS = 'parts/others.fettle';

describe('a part as it was', () => {
  it('is that of the mount under a load, too', async () => {
    const change = new Change(CRAFT);
    change
      .write({ 'parts/gel.fettle': 'mount Gel { frequency: 230 Hz measured  damping: 5 %  mass: 1 g }\n' })
      .edit(RAFTER, 'load: Camera from Board32.video', 'load: Camera from Board32.video on Gel')
      .commit();
    change.edit('parts/gel.fettle', '230 Hz', '30 Hz');
    expect((await change.json()).verdict.sentence).toMatch(
      /1 part whose stated facts changed \(frequency: 230 Hz measured → frequency: 30 Hz measured of mount Gel\): it resolves mount-resonance/,
    );
  });

  it('flies what the craft flies, which still releases its load', async () => {
    const change = new Change(CRAFT);
    change
      .write({
        'parts/round.fettle':
          'load Lamp { draw: 60 W  mass: 4 g }\nflight Round {\n  leg: 20 s hover\n  leg: release Lamp\n  leg: 90 s hover\n}\n',
      })
      .edit(RAFTER, '  load: Camera', '  load: Lamp\n  flight: Round\n  load: Camera')
      .edit(RAFTER, 'Slim700 duty 58 %', 'Slim700\n  require flight.Round.charge <= 155 mAh with Slim700')
      .commit();
    change.edit('parts/motors.fettle', 'rated: 3S', 'rated: 5S');
    // Were the lamp on board to the end, its charge would be past what is required.
    expect((await change.json()).verdict.sentence).toMatch(/1 limit raised .*: it hides motor-overvoltage$/);
  });

  it('is exchanged at its line, though it is joined with another pack', async () => {
    const change = new Change(CRAFT);
    const figures = 'cells: 3S  capacity: 1300 mAh  cell_resistance: 5 mohm  discharge: 90C  mass: 100 g';
    change
      .edit(OTHERS, 'pack Slim900', 'pack Tired like Slim900 { discharge: 5C  mass: 79 g }\npack Slim900')
      .edit(RAFTER, '  pack: Slim900\n', '  pack: Tired with Slim900 in parallel as Both\n')
      .commit();
    change
      .edit(OTHERS, 'pack Tired', `pack Fresh { ${figures} }\npack Tired`)
      .edit(RAFTER, 'pack: Tired with', 'pack: Fresh with');
    const [rafter] = (await change.json()).builds;
    expect(rafter.relaxations).toMatchObject([
      { how: 'exchanged', before: 'pack Tired', after: 'pack Fresh', range: { start: { line: 11, column: 3 } } },
    ]);
  });
});
