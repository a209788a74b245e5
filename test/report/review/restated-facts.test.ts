/** Facts of a part that are other ones than before, with which a finding goes: maybe corrected, and never nothing to worry about. */
import { describe, expect, it } from 'vitest';
import { CRAFT } from './rooftop-craft.ts';
import { Change } from './texts-under-review.ts';

const RAFTER = 'builds/rafter.fettle';
const MOTORS = 'parts/motors.fettle';
const OTHERS = 'parts/others.fettle';
const RULES = 'rules/house.fettle';

describe('stated facts of a part that change', () => {
  it.each([
    ['cells', OTHERS, 'cells: 5S', 'cells: 3S', 'pack Slim700'],
    ['kv', MOTORS, 'kv: 3900 rpm/V', 'kv: 2700 rpm/V', 'motor M1506'],
  ])('%s: the first line names them and the finding that goes with them', async (_, file, was, is, of) => {
    const change = new Change(CRAFT);
    change.edit(RAFTER, 'duty 58 %', 'duty 100 %').commit().edit(file, was, is);
    const { verdict } = await change.json();
    expect(verdict.worry).not.toBe('none');
    expect(verdict.sentence).toContain(`1 part whose stated facts changed (${was}`);
    expect(verdict.sentence).toMatch(new RegExp(`of ${of}\\): it (resolves|lowers) [a-z-]+`));
    const markdown = await change.markdown();
    expect(markdown).toContain(`**stated facts of ${of} changed**`);
    expect(await change.fails('forgiven', 'error')).toBe(false);
  });

  it('are named together where each of two resolves a finding, so that neither alone brings it back', async () => {
    const change = new Change(CRAFT);
    change
      .edit(RULES, 'all_up_weight <= 270 g', 'all_up_weight <= 900 g')
      .edit(RAFTER, 'pack:', 'item: Sandbag\n  item: Brick\n  pack:')
      .write({ 'parts/sand.fettle': 'item Sandbag { mass: 500 g }\nitem Brick { mass: 490 g }\n' })
      .commit();
    change.edit('parts/sand.fettle', '500 g', '1 g').edit('parts/sand.fettle', '490 g', '2 g');
    const { verdict } = await change.json();
    expect(verdict.worry).not.toBe('none');
    expect(verdict.sentence).toMatch(/2 parts whose stated facts changed: they resolve [a-z-]+/);
    const markdown = await change.markdown();
    for (const of of ['item Sandbag', 'item Brick']) expect(markdown).toContain(`**stated facts of ${of} changed**`);
    expect(markdown).toContain('together they resolve');
    expect(await change.fails('forgiven', 'error')).toBe(false);
  });

  it('are other ones where only the cells in parallel are more', async () => {
    const change = new Change(CRAFT);
    change.edit(OTHERS, 'cell_resistance: 9 mohm', 'cell_resistance: 40 mohm').commit();
    change.edit(OTHERS, 'Slim900 { cells: 3S', 'Slim900 { cells: 3S2P');
    const { verdict } = await change.json();
    expect(verdict.sentence).toContain(
      '(cells: 3S → cells: 3S2P of pack Slim900): it resolves pack-oversag and claims-disagree',
    );
  });

  it('are compared of items and mounts too', async () => {
    const change = new Change(CRAFT);
    change
      .edit(RAFTER, 'pack:', 'require all_up_weight <= 250 g\n  item: Sandbag\n  pack:')
      .write({ 'parts/sand.fettle': 'item Sandbag { mass: 120 g }\n' })
      .commit();
    change.edit('parts/sand.fettle', '120 g', '1 g');
    const { verdict } = await change.json();
    expect(verdict.sentence).toMatch(
      /1 part whose stated facts changed \(mass: 120 g → mass: 1 g of item Sandbag\): it resolves [a-z-]+/,
    );
  });

  it('are not named where no finding goes with them', async () => {
    const change = new Change(CRAFT);
    change.edit(MOTORS, 'mass: 12.40 g', 'mass: 12.41 g');
    expect((await change.json()).verdict.sentence).not.toContain('facts');
  });
});
