/** Everything that a group publishes about its craft, as static pages: craft, sheets, cards, texts, parts and their users, requirements. */

import { ascending, group } from 'd3-array';
import { verdictOn } from '../../analysis/decide/pack-grams.ts';
import { isAskedOn } from '../../analysis/decide/requirements.ts';
import { formatPrinted } from '../../analysis/uncertainty/print-estimate.ts';
import type { CheckedBuild } from '../../checks/run.ts';
import { packWords } from '../../model/arrangements.ts';
import type { Place } from '../../syntax/place.ts';
import { COLUMN_HEADS, HEADLINES } from '../../vocabulary/headlines.ts';
import { CARD_STYLE, cardArticle } from '../card/card.ts';
import { cardData } from '../card/card-data.ts';
import { type Checked, findingsAbout, unjudgedOf } from '../checked.ts';
import { CHART_COLOURS, CHART_STYLE } from '../present/chart.ts';
import { type Content, Markup, markup } from '../present/markup.ts';
import { CONTENT_STYLE, PAGE_STYLE } from '../present/page.ts';
import { verdictText, wordsOfVerdict } from '../present/requirement-verdicts.ts';
import { printedOf } from '../present/result-printed.ts';
import { pathAndLine } from '../present/sources.ts';
import { sheetData } from '../sheet/sheet-data.ts';
import { PageLink, SHEET_SECTIONS, unbroken, type Ways } from '../sheet/sheet-sections.ts';
import { sheetVerdictOf } from '../sheet/sheet-words.ts';
import type { SiteData, SitePart } from './site-data.ts';
import { SEARCH_SCRIPT, SITE_STYLE } from './site-look.ts';
import { linkBetween, SiteNames, type SitePath } from './site-names.ts';
import { CARD_STYLE_PATH, linked, type PageOf, SCRIPT_PATH, STYLE_PATH, sitePage } from './site-page.ts';
import { lineAnchor, textBody } from './text-page.ts';

export interface SiteFile {
  readonly path: SitePath;
  readonly text: string;
}

export interface SiteOptions {
  /** Of the site. */
  readonly title: string;
  /** A link to the page to try a build on, with its texts in it; none where there is no such page, or the texts are too long. */
  readonly tryLink?: (texts: ReadonlyMap<string, string>, open: string) => string | undefined;
}

/** The same bytes for the same texts. Pages one by one: those of many craft are many. */
export function* siteFiles(checked: Checked, data: SiteData, options: SiteOptions): Iterable<SiteFile> {
  const builds = checked.builds.toSorted(
    (a, b) => ascending(a.build.name, b.build.name) || ascending(a.build.uri, b.build.uri),
  );
  const names = new SiteNames(
    builds.map(({ build }) => build),
    data.texts.map(({ uri }) => uri),
  );
  const site = new Site(checked, data, names, options);
  const page = (of: PageOf): SiteFile => ({ path: of.path, text: sitePage(of, options.title) });
  yield { path: STYLE_PATH, text: CHART_COLOURS + CHART_STYLE + CONTENT_STYLE + PAGE_STYLE + SITE_STYLE };
  yield { path: CARD_STYLE_PATH, text: CARD_STYLE };
  yield { path: SCRIPT_PATH, text: SEARCH_SCRIPT };
  for (const build of builds) {
    yield page(site.sheet(build));
    yield page(site.card(build));
  }
  for (const text of data.texts) {
    yield page({ path: names.text(text.uri), title: names.pathOf(text.uri), body: textBody(text, names) });
  }
  yield page(site.index(builds));
  yield page(site.parts());
  yield page(site.requirements(builds));
  yield page(site.search(builds));
}

class Site {
  readonly #checked: Checked;
  readonly #data: SiteData;
  readonly #names: SiteNames;
  readonly #options: SiteOptions;

  constructor(checked: Checked, data: SiteData, names: SiteNames, options: SiteOptions) {
    this.#checked = checked;
    this.#data = data;
    this.#names = names;
    this.#options = options;
  }

  /** Each craft on each of its packs, a row each. */
  index(builds: readonly CheckedBuild[]): PageOf {
    const path = 'index.html';
    const heads = ['craft', 'pack', ...HEADLINES.site.map((name) => COLUMN_HEADS[name])];
    const rows = builds.flatMap((checkedBuild) => this.#craftRows(path, checkedBuild));
    const body = markup`<h1>${this.#options.title}</h1>
${
  rows.length === 0
    ? markup`<p>There is no build here yet.</p>`
    : table(
        'Each craft on each of its packs',
        heads.map((words, i) => markup`<th scope="col"${i > 1 ? NUMBER : undefined}>${words}</th>`),
        rows,
      )
}`;
    return { path, title: this.#options.title, body };
  }

  #craftRows(path: SitePath, { build, assessments }: CheckedBuild): Content[] {
    const { worry, sentence } = sheetVerdictOf(findingsAbout(build, this.#checked), unjudgedOf(build, this.#checked));
    const lines = Math.max(1, assessments.length);
    const craft = markup`<th scope="rowgroup" rowspan="${lines}">${linked(path, this.#names.sheet(build), build.title ?? build.name)}
<p class="verdict ${worry}">${sentence}</p></th>`;
    if (assessments.length === 0) {
      return [
        markup`<tr>${craft}<td class="none" colspan="${HEADLINES.site.length + 1}">nothing can be computed yet</td></tr>`,
      ];
    }
    return assessments.map((assessment, i) => {
      const cells = HEADLINES.site.map((name) => {
        const printed = printedOf(name, assessment);
        return cell(COLUMN_HEADS[name], printed === undefined ? '–' : unbroken(formatPrinted(printed)), 'number');
      });
      return markup`<tr>${i === 0 ? craft : undefined}<td class="named">${packWords(assessment.option)}</td>${cells}</tr>`;
    });
  }

  sheet(checkedBuild: CheckedBuild): PageOf {
    const { build } = checkedBuild;
    const path = this.#names.sheet(build);
    const data = sheetData(checkedBuild, this.#checked, 'never');
    const ways = this.#waysFrom(path);
    const others = [
      linked(path, this.#names.card(build), 'Card for the field'),
      linked(path, this.#names.text(build.uri), 'Text'),
      this.#tryLink(checkedBuild),
    ].flatMap((link) => (link === undefined ? [] : [markup`<li>${link}</li>`]));
    const sections = SHEET_SECTIONS.flatMap(({ of }) => of(data, ways) ?? []).map((one) => markup`${one}\n`);
    return {
      path,
      title: data.title ?? data.build,
      body: markup`<ul class="ways">${others}</ul>\n${sections}`,
      hasFoot: true,
    };
  }

  card(checkedBuild: CheckedBuild): PageOf {
    const { build } = checkedBuild;
    const path = this.#names.card(build);
    const body = markup`<ul class="ways"><li>${linked(path, this.#names.sheet(build), 'Build sheet')}</li></ul>
${cardArticle(cardData(checkedBuild, this.#checked))}`;
    return { path, title: `Card: ${build.title ?? build.name}`, body, hasFoot: true, isCard: true };
  }

  parts(): PageOf {
    const path = 'parts.html';
    const byKind = group(this.#data.parts, ({ kind }) => kind);
    const sections = [...byKind].map(
      ([kind, parts]) => markup`<h2 id="${kind}">${kind}</h2>
${table(
  `Parts of the kind ${kind}`,
  PART_HEADS.map(heading),
  parts.map((part) => this.#partRow(path, part)),
)}`,
    );
    const none = markup`<p>No part is declared here; the builds use those that come with the language.</p>`;
    return { path, title: 'Parts', body: markup`<h1>Parts</h1>\n${sections.length === 0 ? none : sections}` };
  }

  #partRow(path: SitePath, { name, title, place, usedBy }: SitePart): Markup {
    const users = usedBy.map((build, i) => [
      i > 0 ? ', ' : undefined,
      this.#names.hasSheet(build) ? linked(path, this.#names.sheet(build), build.name) : build.name,
    ]);
    const text = linked(path, this.#names.text(place.uri), markup`<code>${name}</code>`, name);
    const cells = cellsOf(PART_HEADS, [title, users.length === 0 ? 'none' : users]);
    return markup`<tr><th scope="row">${text}</th>${cells}</tr>`;
  }

  /** What is required of each craft, with the verdict on each pack, and what was accepted, with its reason. */
  requirements(builds: readonly CheckedBuild[]): PageOf {
    const path = 'requirements.html';
    const required = builds.flatMap(({ build, assessments }) =>
      build.rules.requirements.map((requirement) => {
        const verdicts = assessments
          .filter(({ option }) => isAskedOn(requirement, option))
          .map((assessment) => {
            const verdict = verdictOn(requirement, assessment);
            return markup`<li>${packWords(assessment.option)}: <strong>${verdictText(verdict)}</strong>, ${wordsOfVerdict(verdict).join('; ')}</li>`;
          });
        const text = this.#toPlace(path, requirement.place, markup`<code>${requirement.text}</code>`);
        const cells = cellsOf(REQUIRED_HEADS, [
          text,
          requirement.because ?? '–',
          verdicts.length === 0 ? 'cannot be judged' : markup`<ul class="plain">${verdicts}</ul>`,
        ]);
        return markup`<tr><th scope="row">${linked(path, this.#names.sheet(build), build.name)}</th>${cells}</tr>`;
      }),
    );
    const accepted = builds.flatMap(({ build }) =>
      findingsAbout(build, this.#checked)
        .filter((finding) => finding.accepted !== undefined)
        .map((finding) => {
          const where = this.#toPlace(path, finding.place, markup`<code>${finding.id}</code>`);
          const cells = cellsOf(ACCEPTED_HEADS, [where, finding.accepted, finding.message]);
          return markup`<tr><th scope="row">${linked(path, this.#names.sheet(build), build.name)}</th>${cells}</tr>`;
        }),
    );
    const body = markup`<h1>Requirements and what was accepted</h1>
<h2>Requirements</h2>
${required.length === 0 ? markup`<p>No build states a requirement.</p>` : table('Requirements of each craft', REQUIRED_HEADS.map(heading), required)}
<h2>Accepted findings</h2>
${accepted.length === 0 ? markup`<p>No finding is accepted.</p>` : table('Findings that were accepted', ACCEPTED_HEADS.map(heading), accepted)}`;
    return { path, title: 'Requirements', body };
  }

  /** Everything that has a name, as one list; the script only hides what does not match. */
  search(builds: readonly CheckedBuild[]): PageOf {
    const path = 'search.html';
    const item = (kind: string, to: Markup, more: Content) =>
      markup`<li><span class="quiet">${kind}</span> ${to} ${more}</li>`;
    const items = [
      ...builds.map(({ build }) =>
        item(
          'build',
          linked(path, this.#names.sheet(build), build.name),
          [build.title, ...build.packs.map(({ name }) => name)].filter(Boolean).join(', '),
        ),
      ),
      ...this.#data.parts.map(({ kind, name, title, place }) =>
        item(kind, linked(path, this.#names.text(place.uri), name, name), title),
      ),
      ...this.#data.texts.map(({ uri }) =>
        item('text', linked(path, this.#names.text(uri), this.#names.pathOf(uri)), undefined),
      ),
    ];
    const body = markup`<h1>Search</h1>
<p id="search" hidden><label>Name, title or kind <input type="search"></label> <span role="status"></span></p>
<ul class="plain" id="found">${items}</ul>`;
    return { path, title: 'Search', body, isSearched: true };
  }

  #tryLink({ build }: CheckedBuild): Markup | undefined {
    const texts = this.#data.texts.filter(
      ({ uri, words }) =>
        uri === build.uri ||
        words.some(({ declares, start, end }) => declares !== undefined && build.isMadeOf({ uri, start, end })),
    );
    const named = new Map(texts.map(({ uri, text }) => [this.#names.pathOf(uri), text]));
    const link = this.#options.tryLink?.(named, this.#names.pathOf(build.uri));
    return link === undefined ? undefined : markup`<a href="${link}">Try it with other lines</a>`;
  }

  #waysFrom(path: SitePath): Ways {
    return {
      where: (place) => this.#where(place),
      toPlace: (place) => {
        const href = this.#hrefOf(path, place);
        return href === undefined ? undefined : new PageLink(markup` href="${href}"`.text);
      },
      toDerivation: () => undefined,
    };
  }

  #toPlace(path: SitePath, place: Place, content: Content): Content {
    const href = this.#hrefOf(path, place);
    return href === undefined ? content : markup`<a href="${href}">${content}</a>`;
  }

  /** None for what no text of the site contains: the parts that come with the language. */
  #hrefOf(path: SitePath, place: Place): string | undefined {
    const line = this.#checked.sources.excerpt(place)?.start.line;
    const isShown = line !== undefined && this.#data.texts.some(({ uri }) => uri === place.uri);
    return isShown ? linkBetween(path, this.#names.text(place.uri), lineAnchor(line)) : undefined;
  }

  #where(place: Place): string {
    return pathAndLine({ sources: this.#checked.sources, pathOf: (uri) => this.#names.pathOf(uri) }, place);
  }
}

const NUMBER = new Markup(' class="number"');

const PART_HEADS = ['name', 'title', 'builds that use it'] as const;
const REQUIRED_HEADS = ['craft', 'required', 'because', 'verdict on each pack'] as const;
const ACCEPTED_HEADS = ['craft', 'finding', 'because', 'what was found'] as const;

/** Without room for columns it is labelled with the heading of its own. */
const cell = (of: string, content: Content, look = ''): Markup =>
  markup`<td class="${look}" data-of="${of}">${content}</td>`;

/** Those of a row, after its own heading. */
const cellsOf = (heads: readonly string[], contents: readonly Content[]): Markup[] =>
  contents.map((content, i) => cell(heads[i + 1] ?? '', content, heads[i + 1] === 'because' ? 'reason' : ''));

const heading = (words: string): Markup => markup`<th scope="col">${words}</th>`;

const table = (caption: string, headings: Content, rows: Content): Markup =>
  markup`<div class="scroll" role="region" aria-label="${caption}" tabindex="0"><table class="labelled"><caption>${caption}</caption><thead><tr>${headings}</tr></thead><tbody>${rows}</tbody></table></div>`;
