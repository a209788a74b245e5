/** The comment on a pull request: how long it may be, what comes first, and text of files that stays text. */
import { marked, type Token, type Tokens } from 'marked';
import { describe, expect, it } from 'vitest';
import { CRAFT } from './rooftop-craft.ts';
import { Change } from './texts-under-review.ts';

describe('a review as Markdown', () => {
  it('notes that shares need not add up, only where they do not', async () => {
    const change = new Change(CRAFT);
    const note = 'Each change was computed alone: together they need not add up, because they interact.';
    change.edit('parts/motors.fettle', 'mass: 12.40 g', 'mass: 12.50 g').edit('parts/others.fettle', '47 g', '48 g');
    const small = await change.markdown();
    expect(small).toContain('Each change alone');
    expect(small).not.toContain(note);
    change.edit('parts/motors.fettle', '74 mohm', '140 mohm').edit('builds/rafter.fettle', 'duty 58 %', 'duty 100 %');
    expect((await change.markdown()).split(note)).toHaveLength(2);
  });

  it('is never longer than forges take, with the verdict, the worst first, and how many more there are', async () => {
    const names = Array.from({ length: 700 }, (_, i) => `Part_with_a_rather_long_name_${i}`);
    const items = (mass: string) => `fettle 1\n${names.map((name) => `item ${name} { mass: ${mass} }\n`).join('')}`;
    const fitted = names.map((name) => `  item: ${name}\n`).join('');
    const files = { ...CRAFT, 'parts/items.fettle': items('0.01 g'), 'parts/wrong.fettle': 'fettle 1\n' };
    const change = new Change(files, ['builds/rafter.fettle', 'parts']);
    change.edit('builds/rafter.fettle', '  pack: Slim900', `${fitted}  pack: Slim900`).commit();
    const wrong = items('3 gg').replaceAll('Part_', 'Wrong_');
    change.write({ 'parts/items.fettle': items('0.02 g'), 'parts/wrong.fettle': wrong });
    const out = await change.markdown();
    expect(out.length).toBeLessThan(65_536);
    expect(out).toMatch(/^## Stop and check: 700 new errors\n/);
    expect(out).toMatch(
      /What changed: 700 lines[\s\S]*?\n- and \d{3} more\n[\s\S]*In the files[\s\S]*?\n- and \d{3} more\n/,
    );
    expect(out).toMatch(/^### `Rafter`/m);
  });

  it('has in its first three lines whether to worry', async () => {
    const change = new Change(CRAFT);
    const head = async () => (await change.markdown()).split('\n').slice(0, 3).join('\n');
    expect(await head()).toMatch(/^## Nothing to worry about/);
    change.edit('parts/motors.fettle', 'mass: 12.40 g', 'mass: 13.40 g');
    expect(await head()).toMatch(
      /^## No new error or warning; 2 builds differ by more than the ± can explain\n\n2 of 3 builds/,
    );
    change.edit('builds/rafter.fettle', 'duty 58 %', 'duty 100 %');
    expect(await head()).toMatch(/^## Stop and check: 1 new error\n/);
  });
});

describe('hostile text', () => {
  const evil =
    '<img src=x onerror=alert(1)> [a](https://evil.example) @team #12 `x` | y **b** $m$ https://evil.example www.evil.example <!-- </details>';
  const controls = '\u001b[31mred\u001b]0;title\u0007 \u202Eabc';

  function hostile(): Change {
    return new Change(CRAFT).write({
      'builds/`a`|<b>.fettle': `fettle 1
use "../parts"
build Evil "${evil}${controls}" {
  airframe: Open152
  motors: 4 x M1506 with P3022
  esc: Board32
  pack: Slim700
  accept motor-overvoltage because "${evil}${controls}"
  require all_up_weight <= 120 g because "${evil}"
}
`,
    });
  }

  it('stays text in Markdown: no markup, HTML, link, mention or reference of its own', async () => {
    const change = hostile();
    const out = await change.markdown();
    const kinds = new Set<string>();
    const html: string[] = [];
    const texts: string[] = [];
    marked.walkTokens(marked.lexer(out), (token: Token) => {
      kinds.add(token.type);
      if (token.type === 'html') html.push((token as Tokens.HTML).text.trim());
      if (token.type === 'text' || token.type === 'escape') texts.push(token.raw);
    });
    expect([...kinds]).not.toContain('link');
    expect([...kinds]).not.toContain('image');
    const known = /^(<!-- -->|<\/?(details|summary|sub)>)$/;
    const tags = html.flatMap((piece) => piece.match(/<!--.*?-->|<[^>]*>/gs) ?? []);
    expect(tags.filter((tag) => !known.test(tag))).toEqual([]);
    expect(out.match(/<details>/g)?.length ?? 0).toBe(out.match(/<\/details>/g)?.length ?? 0);
    for (const text of texts) expect(text).not.toMatch(/@\w|#\d|:\/\/|www\./);
    // biome-ignore lint/suspicious/noControlCharactersInRegex: this is what must not be there.
    expect(out).not.toMatch(/[\u0000-\u0009\u000b-\u001f\u007f-\u009f\u202a-\u202e]/);
    expect(out).toContain('red');
  });

  it('drives no terminal', async () => {
    const change = hostile();
    const out = await change.text();
    expect(out).toContain('Evil');
    // biome-ignore lint/suspicious/noControlCharactersInRegex: this is what must not be there.
    expect(out).not.toMatch(/[\u0000-\u0009\u000b-\u001f\u007f-\u009f\u202a-\u202e]/);
  });
});
