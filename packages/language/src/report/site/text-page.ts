/** A text as a page: each line with its number, each word in its colour, each name of a part a link to where it is declared. */
import { type Content, type Markup, markup } from '../present/markup.ts';
import type { SiteText, SiteWord } from './site-data.ts';
import { linkBetween, type SiteNames } from './site-names.ts';

export const lineAnchor = (line: number): string => `L${line}`;

/** @param names of the whole site */
export function textBody({ uri, text, words }: SiteText, names: SiteNames): Markup {
  const path = names.text(uri);
  const wordOf = (word: SiteWord): Content => {
    const content = markup`<span class="w-${word.type}">${text.slice(word.start, word.end)}</span>`;
    if (word.declares !== undefined) return markup`<span id="${word.declares}">${content}</span>`;
    if (word.target === undefined) return content;
    return markup`<a href="${linkBetween(path, names.text(word.target.uri), word.target.name)}">${content}</a>`;
  };
  const lines: Markup[] = [];
  let at = 0;
  let next = 0;
  for (const line of text.split(/(?<=\n)/)) {
    const end = at + line.length;
    const parts: Content[] = [];
    for (let word = words[next]; word !== undefined && word.start < end; word = words[++next]) {
      parts.push(text.slice(at, word.start), wordOf(word));
      at = word.end;
    }
    parts.push(text.slice(at, end).replace(/\r?\n$/, ''));
    at = end;
    const anchor = lineAnchor(lines.length + 1);
    lines.push(
      markup`<li id="${anchor}"><a class="number" href="#${anchor}" aria-label="Line ${lines.length + 1}">${lines.length + 1}</a><code>${parts}</code></li>`,
    );
  }
  return markup`<h1>${names.pathOf(uri)}</h1>
<ol class="text">
${lines}
</ol>`;
}
