/** The comment on a pull request, as a person reads it. Refresh the goldens with `npx vitest run test/review -u`. Needs the build. */
import { marked, type Token, type Tokens } from 'marked';
import { describe, expect, it } from 'vitest';
import { CRAFT, Repository } from './repository.ts';

const markdown = (repository: Repository, ...args: string[]): string =>
  repository.review('--base', 'main', '--format', 'markdown', ...args).out;

describe('a review as Markdown', () => {
  it('with one change of a shared part', async () => {
    using repository = new Repository(CRAFT);
    repository.branch('change').edit('parts/motors.fettle', 'mass: 12.40 g', 'mass: 13.40 g').commit();
    const out = markdown(repository, '--head', 'change');
    await expect(out).toMatchFileSnapshot('golden/one-figure.md.txt');
    expect(markdown(repository, '--head', 'change')).toBe(out);
  });

  it('with several changes that bring an error, an acceptance, a build and a pack', async () => {
    using repository = new Repository(CRAFT);
    repository
      .branch('change')
      .edit('parts/motors.fettle', '74 mohm', '96 mohm')
      .edit('builds/rafter.fettle', 'duty 58 %', 'duty 100 %')
      .edit('builds/eave.fettle', 'pack: Slim700', 'pack: Slim700\n  pack: Slim900 as Short')
      .write({ 'builds/gable.fettle': CRAFT['builds/rafter.fettle']?.replaceAll('Rafter', 'Gable') ?? '' })
      .commit();
    await expect(markdown(repository, '--head', 'change')).toMatchFileSnapshot('golden/several.md.txt');
    await expect(repository.review('--base', 'main', '--head', 'change').out).toMatchFileSnapshot('golden/several.txt');
  });

  it('with a requirement that is no longer there and an error that is accepted', async () => {
    using repository = new Repository(CRAFT);
    repository
      .branch('change')
      .edit('builds/rafter.fettle', 'duty 58 %', 'duty 100 %\n  accept motor-overvoltage because "ten seconds"')
      .edit('rules/house.fettle', '  require all_up_weight <= 270 g\n', '')
      .commit();
    await expect(markdown(repository, '--head', 'change')).toMatchFileSnapshot('golden/relaxed.md.txt');
  });

  it('notes that shares need not add up, only where they do not', () => {
    using repository = new Repository(CRAFT);
    const note = 'Each change was computed alone: together they need not add up, because they interact.';
    repository
      .edit('parts/motors.fettle', 'mass: 12.40 g', 'mass: 12.50 g')
      .edit('parts/others.fettle', '47 g', '48 g');
    const small = markdown(repository);
    expect(small).toContain('Each change alone');
    expect(small).not.toContain(note);
    repository
      .edit('parts/motors.fettle', '74 mohm', '140 mohm')
      .edit('builds/rafter.fettle', 'duty 58 %', 'duty 100 %');
    expect(markdown(repository).split(note)).toHaveLength(2);
  });

  it('with nothing to report', async () => {
    using repository = new Repository(CRAFT);
    repository.branch('change').write({ 'README.txt': 'about our craft' }).commit();
    await expect(markdown(repository, '--head', 'change')).toMatchFileSnapshot('golden/nothing.md.txt');
  });

  it('is never longer than forges take, with the verdict, the worst first, and how many more there are', () => {
    const names = Array.from({ length: 700 }, (_, i) => `Part_with_a_rather_long_name_${i}`);
    const items = (mass: string) => `fettle 1\n${names.map((name) => `item ${name} { mass: ${mass} }\n`).join('')}`;
    const fitted = names.map((name) => `  item: ${name}\n`).join('');
    using repository = new Repository({
      ...CRAFT,
      'parts/items.fettle': items('0.01 g'),
      'parts/wrong.fettle': 'fettle 1\n',
    });
    repository.edit('builds/rafter.fettle', '  pack: Slim900', `${fitted}  pack: Slim900`).commit();
    const wrong = items('3 gg').replaceAll('Part_', 'Wrong_');
    repository.write({ 'parts/items.fettle': items('0.02 g'), 'parts/wrong.fettle': wrong });
    const out = repository.review('--base', 'HEAD', '--format', 'markdown').out;
    expect(out.length).toBeLessThan(65_536);
    expect(out).toMatch(/^## Stop and check: 700 new errors\n/);
    expect(out).toMatch(
      /What changed: 700 lines[\s\S]*?\n- and \d{3} more\n[\s\S]*In the files[\s\S]*?\n- and \d{3} more\n/,
    );
    expect(out).toMatch(/^### `Rafter`/m);
  });

  it('has in its first three lines whether to worry', () => {
    using repository = new Repository(CRAFT);
    const head = () => markdown(repository).split('\n').slice(0, 3).join('\n');
    expect(head()).toMatch(/^## Nothing to worry about/);
    repository.edit('parts/motors.fettle', 'mass: 12.40 g', 'mass: 13.40 g');
    expect(head()).toMatch(
      /^## No new error or warning; 2 builds differ by more than the ± can explain\n\n2 of 3 builds/,
    );
    repository.edit('builds/rafter.fettle', 'duty 58 %', 'duty 100 %');
    expect(head()).toMatch(/^## Stop and check: 1 new error\n/);
  });
});

describe('hostile text', () => {
  const evil =
    '<img src=x onerror=alert(1)> [a](https://evil.example) @team #12 `x` | y **b** $m$ https://evil.example www.evil.example <!-- </details>';
  const controls = '\u001b[31mred\u001b]0;title\u0007 \u202Eabc';

  function hostile(): Repository {
    const repository = new Repository(CRAFT);
    repository.write({
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
    return repository;
  }

  it('stays text in Markdown: no markup, HTML, link, mention or reference of its own', () => {
    using repository = hostile();
    const out = markdown(repository);
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

  it('drives no terminal', () => {
    using repository = hostile();
    const { out } = repository.review('--base', 'main');
    expect(out).toContain('Evil');
    // biome-ignore lint/suspicious/noControlCharactersInRegex: this is what must not be there.
    expect(out).not.toMatch(/[\u0000-\u0009\u000b-\u001f\u007f-\u009f\u202a-\u202e]/);
  });
});

describe('a review as JSON', () => {
  it('keeps its shape', async () => {
    using repository = new Repository(CRAFT);
    repository
      .branch('change')
      .edit('parts/motors.fettle', '74 mohm', '96 mohm')
      .edit('parts/motors.fettle', '12.40 g', '13.40 g')
      .edit('rules/house.fettle', '<= 270 g', '<= 150 g')
      .commit();
    const printed = repository.json('--base', 'main', '--head', 'change');
    expect(printed.version).toBe(1);
    await expect(shapeOf(printed)).toMatchFileSnapshot('golden/shape.txt');
  });
});

/** Every path through the JSON with the type at its end; names of packs and results count as one. */
function shapeOf(value: unknown, path = ''): string {
  const paths = new Set<string>();
  const walk = (one: unknown, at: string): void => {
    if (Array.isArray(one)) for (const item of one) walk(item, `${at}[]`);
    else if (one !== null && typeof one === 'object') {
      const keys = /\.(results|shares|shares\.\*)$/.test(at) ? '*' : undefined;
      for (const [key, item] of Object.entries(one)) walk(item, `${at}.${keys ?? key}`);
    } else paths.add(`${at}: ${typeof one}`);
  };
  walk(value, path);
  return `${[...paths].sort().join('\n')}\n`;
}
