/** `fettle site`: static pages about all craft. Every link leads somewhere, nothing of a text becomes markup, nobody's files are touched. */
import { existsSync, readdirSync, readFileSync, statSync, symlinkSync } from 'node:fs';
import { dirname, join, relative } from 'node:path';
import { inflateRawSync } from 'node:zlib';
import { afterAll, describe, expect, it } from 'vitest';
import { cases } from '../long.ts';
import { Workshop } from './command.ts';

const shop = new Workshop();
afterAll(() => shop.remove());
const site = (...args: string[]) => shop.fettle('site', ...args);

/** Every file below a folder, by its path in it. */
function filesOf(folder: string): Map<string, string> {
  const home = join(shop.folder, folder);
  const paths = readdirSync(home, { recursive: true, encoding: 'utf8' }).filter((path) =>
    statSync(join(home, path)).isFile(),
  );
  return new Map(paths.sort().map((path) => [path, readFileSync(join(home, path), 'utf8')]));
}

const unescaped = (text: string): string =>
  text
    .replaceAll('&quot;', '"')
    .replaceAll('&lt;', '<')
    .replaceAll('&gt;', '>')
    .replaceAll('&#39;', "'")
    .replaceAll('&amp;', '&');
const attributes = (page: string, name: string): string[] =>
  [...page.matchAll(new RegExp(`\\s${name}="([^"]*)"`, 'g'))].map(([, value = '']) => unescaped(value));

/** Links of a page that lead to no page, or to no place in one. */
function brokenLinks(files: ReadonlyMap<string, string>): string[] {
  return [...files].flatMap(([path, text]) => {
    if (!path.endsWith('.html')) return [];
    return [...attributes(text, 'href'), ...attributes(text, 'src')].flatMap((href) => {
      if (/^https:/.test(href)) return [];
      const [file = '', anchor] = href.split('#').map(decodeURIComponent);
      const target = file === '' ? path : join(dirname(path), file);
      const page = files.get(target);
      const isThere = page !== undefined && (anchor === undefined || attributes(page, 'id').includes(anchor));
      return isThere ? [] : [`${path}: ${href}`];
    });
  });
}

describe('fettle site', () => {
  it('writes a page for each build, its card and its text, and every link leads somewhere', () => {
    const { code, out, err } = site('public', 'examples', '--title', 'Tower group');
    expect({ code, err }).toEqual({ code: 0, err: '' });
    expect(out).toMatch(/^17 builds on \d+ files in public: open public\/index.html\n$/);
    const files = filesOf('public');
    expect(brokenLinks(files)).toEqual([]);
    for (const path of ['builds/Spire.html', 'cards/Spire.html', 'texts/builds/spire.fettle.html']) {
      expect(files.get(path)).toContain('Tower group');
    }
    const index = files.get('index.html') ?? '';
    const checked = JSON.parse(shop.fettle('check', 'examples/builds', '--format', 'json').out);
    for (const { name, title, options } of checked.builds) {
      expect(index).toContain(`<a href="builds/${name}.html">${title ?? name}</a>`);
      for (const { pack } of options) expect(index).toContain(`<td class="named">${pack}</td>`);
    }
  });

  it('names each part with its users, each requirement with its reason, each acceptance with what was found', () => {
    const files = filesOf('public');
    const parts = files.get('parts.html') ?? '';
    const row = parts.split('<tr>').find((one) => one.includes('>M1606_3150<')) ?? '';
    for (const build of ['Belfry', 'Gable', 'Spire'])
      expect(row).toContain(`<a href="builds/${build}.html">${build}</a>`);
    const requirements = files.get('requirements.html') ?? '';
    expect(requirements).toContain('two bays and back');
    expect(requirements).toMatch(/Mast1050_4S: <strong>holds<\/strong>/);
    shop.write(
      'own/own.fettle',
      'use "../examples/builds"\nbuild Own like Spire { accept estimates because "measured next week" }\n',
    );
    expect(site('own-site', 'own').code).toBe(0);
    expect(filesOf('own-site').get('requirements.html')).toContain('measured next week');
  });

  it('links a name in a text to where it is declared', () => {
    const text = filesOf('public').get('texts/builds/spire.fettle.html') ?? '';
    expect(text).toContain('<a href="../../texts/parts/motors.fettle.html#M1606_3150">');
    expect(attributes(filesOf('public').get('texts/parts/motors.fettle.html') ?? '', 'id')).toContain('M1606_3150');
    // The text itself, whole.
    const plain = unescaped(
      [...text.matchAll(/<code>(.*?)<\/code><\/li>/g)].map(([, line = '']) => line.replace(/<[^>]*>/g, '')).join('\n'),
    );
    expect(plain).toBe(readFileSync(join(shop.folder, 'examples/builds/spire.fettle'), 'utf8').replace(/\n$/, ''));
  });

  it('writes the same bytes for the same texts', () => {
    const [before, ...texts] = cases(0, 1) ? ['public', 'examples', '--title', 'Tower group'] : ['own-site', 'own'];
    expect(site('again', ...texts).code).toBe(0);
    expect(filesOf('again')).toEqual(filesOf(before ?? ''));
  });

  it('takes away the pages of builds that are gone, and nothing else', () => {
    shop.write('few/a.fettle', 'build A { dry_mass: 100 g }\n');
    shop.write('few/b.fettle', 'build B { dry_mass: 100 g }\n');
    site('few-site', 'few');
    expect(existsSync(join(shop.folder, 'few-site/builds/B.html'))).toBe(true);
    shop.write('few-site/own-page.html', 'mine');
    site('few-site', 'few/a.fettle');
    expect(existsSync(join(shop.folder, 'few-site/builds/B.html'))).toBe(false);
    expect(readFileSync(join(shop.folder, 'few-site/own-page.html'), 'utf8')).toBe('mine');
  });

  it.each([
    ['a folder with files of its own', 'examples', /has files that are not of a site/],
    ['a file', 'examples/builds/spire.fettle', /cannot be written/],
  ])('refuses %s', (_what, out, reason) => {
    const before = filesOf('examples');
    const { code, err } = site(out, 'few');
    expect(code).toBe(2);
    expect(err).toMatch(reason);
    expect(filesOf('examples')).toEqual(before);
  });

  it('follows no way out of its folder in the list of an earlier run', () => {
    const outside = shop.write('precious.txt', 'mine');
    shop.write('tricked/.fettle-site', '../precious.txt\n/etc/hostname\n');
    expect(site('tricked', 'few').code).toBe(0);
    expect(readFileSync(outside, 'utf8')).toBe('mine');
  });

  it('writes through no link that somebody put into its folder', () => {
    shop.write('linked/.fettle-site', '');
    shop.write('elsewhere/kept.txt', 'mine');
    symlinkSync(join(shop.folder, 'elsewhere'), join(shop.folder, 'linked/builds'));
    const { code, err } = site('linked', 'few');
    expect(code).toBe(2);
    expect(err).toContain('is a link');
    expect(readdirSync(join(shop.folder, 'elsewhere'))).toEqual(['kept.txt']);
  });

  it('links to no address that could run', () => {
    expect(site('unsafe', 'few', '--try', 'javascript:alert(1)').code).toBe(2);
    expect(existsSync(join(shop.folder, 'unsafe'))).toBe(false);
  });

  it('keeps builds of one name apart, also on a disk that does not distinguish SPIRE from Spire', () => {
    const build = (name: string) => `build ${name} { dry_mass: 100 g }\n`;
    shop.write('twins/a/one.fettle', build('Spire'));
    shop.write('twins/b/two.fettle', build('Spire'));
    shop.write('twins/b/three.fettle', build('SPIRE'));
    site('twins-site', 'twins');
    const files = filesOf('twins-site');
    const sheets = [...files.keys()].filter((path) => path.startsWith('builds/'));
    expect(new Set(sheets.map((path) => path.toLowerCase())).size).toBe(3);
    expect(brokenLinks(files)).toEqual([]);
  });

  it('shows hostile words as words', () => {
    const evil = '<script>alert(1)</script><img src=x onerror=alert(2)>';
    shop.write(
      'evil/evil.fettle',
      `use "../examples/builds"\n// ${evil} ]]> -->\nbuild Evil "${evil}" like Spire {\n  note "${evil}" for preflight\n  require hover_time >= 1 min because "${evil}"\n}\n`,
    );
    expect(site('evil-site', 'evil', '--title', evil).code).toBe(0);
    const files = filesOf('evil-site');
    for (const [path, text] of files) {
      if (!path.endsWith('.html')) continue;
      expect(text).not.toMatch(/<img|<script>|onerror="/);
      expect(text).toContain("default-src 'none'");
    }
    expect(brokenLinks(files)).toEqual([]);
  });

  it('links to the page to try a build on, with the texts in the address', () => {
    expect(
      site('tried', 'examples/builds/spire.fettle', 'examples/stands', '--try', 'https://example.org/try/').code,
    ).toBe(0);
    const href = attributes(filesOf('tried').get('builds/Spire.html') ?? '', 'href').find((one) =>
      one.startsWith('https:'),
    );
    const [, packed = ''] = /^https:\/\/example\.org\/try\/#1\.(.*)$/.exec(href ?? '') ?? [];
    const { files, open } = JSON.parse(inflateRawSync(Buffer.from(packed, 'base64url')).toString());
    expect(open).toBe('builds/spire.fettle');
    expect(files['builds/spire.fettle']).toBe(readFileSync(join(shop.folder, 'examples/builds/spire.fettle'), 'utf8'));
    expect(Object.keys(files)).toEqual(expect.arrayContaining(['parts/motors.fettle', 'stands/stands.fettle']));
    expect(Object.keys(files)).not.toContain('builds/wren.fettle');
  });

  it('reports what cannot be read, and shows the rest', () => {
    const { code, err } = site('partly', 'few', relative('.', 'nowhere'));
    expect(code).toBe(2);
    expect(err).toContain('nowhere: there is no such file or folder');
    expect(existsSync(join(shop.folder, 'partly/builds/A.html'))).toBe(true);
  });
});
