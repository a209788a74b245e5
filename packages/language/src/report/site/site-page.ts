/** What all pages of a site share: head, way back, foot. They load nothing but their own files, and are read without a script. */
import { type Content, type Markup, markup } from '../present/markup.ts';
import { CAUTION } from '../present/report-words.ts';
import { COMPUTED_BY } from '../present/version.ts';
import { linkBetween, type SitePath } from './site-names.ts';

export const STYLE_PATH = 'site.css';
export const CARD_STYLE_PATH = 'card.css';
export const SCRIPT_PATH = 'search.js';

const SECTIONS: readonly (readonly [string, SitePath])[] = [
  ['Craft', 'index.html'],
  ['Parts', 'parts.html'],
  ['Requirements', 'requirements.html'],
  ['Search', 'search.html'],
];

export interface PageOf {
  readonly path: SitePath;
  readonly title: string;
  readonly body: Content;
  /** It has the page's own foot already. */
  readonly hasFoot?: boolean;
  readonly isCard?: boolean;
  readonly isSearched?: boolean;
}

/** A link of one page of the site to another. */
export const linked = (from: SitePath, to: SitePath, content: Content, anchor?: string): Markup =>
  markup`<a href="${linkBetween(from, to, anchor)}">${content}</a>`;

/** @param name of the whole site */
export function sitePage({ path, title, body, hasFoot, isCard, isSearched }: PageOf, name: string): string {
  const style = (file: SitePath) => markup`<link rel="stylesheet" href="${linkBetween(path, file)}">`;
  const ways = SECTIONS.map(([word, to]) =>
    to === path
      ? markup`<li><a href="${linkBetween(path, to)}" aria-current="page">${word}</a></li>`
      : markup`<li>${linked(path, to, word)}</li>`,
  );
  const script =
    isSearched === true ? markup`<script src="${linkBetween(path, SCRIPT_PATH)}" defer></script>` : undefined;
  const foot = hasFoot === true ? undefined : markup`<footer>${CAUTION} ${COMPUTED_BY}</footer>`;
  return markup`<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'self'; script-src 'self'; base-uri 'none'">
<title>${title === name ? name : `${title} · ${name}`}</title>
${style(STYLE_PATH)}${isCard === true ? style(CARD_STYLE_PATH) : undefined}${script}
</head>
<body>
<nav class="site" aria-label="${name}"><strong>${name}</strong><ul>${ways}</ul></nav>
<main>
${body}
</main>
${foot}
</body>
</html>
`.text;
}
