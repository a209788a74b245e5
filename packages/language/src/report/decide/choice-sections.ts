/** The sections of a choice as HTML: put together to a page by the command, shown one by one by an editor. */
import type { Place } from '../../syntax/place.ts';
import { formatValue } from '../../units/print.ts';
import { plural } from '../../vocabulary/phrasing.ts';
import { type Content, type Markup, markup } from '../present/markup.ts';
import { levelText } from '../present/report-words.ts';
import { COMPUTED_BY } from '../present/version.ts';
import { link } from '../sheet/sheet-sections.ts';
import type { Chosen, Interim, JudgedResult, Row } from './choice.ts';
import { chanceWords, differenceWords, groupWords, isSame, surelyWords } from './choice-text.ts';
import { frontFigure } from './front-chart.ts';

/** Where the words of a choice lead, as attributes; none where nothing leads. */
export interface ChoiceWays {
  toShortlist(): Markup | undefined;
  toBuild(): Markup | undefined;
  toPart(place: Place): Markup | undefined;
  toTake(row: Row): Markup | undefined;
  /** The line of the build that would change. */
  toChange(row: Row): Markup | undefined;
}

/** On top of the look of all pages. */
export const CHOICE_STYLE = `
.front { display: grid; gap: 0 1.6rem; margin-top: 1.2rem; }
.front .narrow { display: none; } .front .wide { display: block; }
@media (min-width: 900px) { .front { grid-template-columns: minmax(0, 36rem) minmax(13rem, 1fr); align-items: center; } }
@media screen and (max-width: 520px) { .front .wide { display: none; } .front .narrow { display: block; } }
.chart a { cursor: pointer; }
.choices tbody th { font-weight: 500; min-width: 12rem; overflow-wrap: anywhere; }
.choices tbody + tbody { border-top: 1.5px solid var(--quiet); }
.choices td.number { white-space: normal; }
.choices td.number span { display: block; white-space: nowrap; }
.choices .rank { display: inline-block; min-width: 1.1rem; margin-right: 0.5rem; font-weight: 650; }
.choices thead .quiet { display: block; font-weight: 400; }
.choices .today { border: 1px solid currentColor; border-radius: 3px; padding: 0 0.35rem; font-size: 0.87em; white-space: nowrap; }
.choices .gain, .choices .loss { font-weight: 650; }
.choices .gain { color: var(--gain, var(--c2)); } .choices .loss { color: var(--loss, var(--alarm)); }
.choices tr.together th { color: var(--quiet); font-weight: 400; }
.choices tr:is(:target, :focus) > * { background: var(--fill); }
.reasons { max-width: 36rem; }
.reasons th code { font-weight: 400; overflow-wrap: anywhere; }
@media screen and (max-width: 560px) {
  .choices thead { display: none; }
  .choices tbody th { color: inherit; }
  .choices td, .choices td.number { flex: 0 0 100%; }
  .choices td.number span { display: inline-block; }
  .choices td:empty { display: none; }
  .choices td[data-of]::before { content: attr(data-of) ' '; color: var(--quiet); }
  .choices td.number[data-of]::before { display: block; }
  .reasons tbody th { flex: 1 1 auto; } .reasons td.number { flex: 0 0 auto; }
}
`;

const rowId = ({ rank }: Row): string => `row-${rank}`;

interface ChoiceSection {
  readonly id: string;
  of(chosen: Chosen, ways: ChoiceWays): Markup | undefined;
}

/** In their order on the page. */
export const CHOICE_SECTIONS: readonly ChoiceSection[] = [
  { id: 'head', of: head },
  { id: 'front', of: front },
  { id: 'candidates', of: candidates },
  { id: 'rejected', of: reasonsTable },
  { id: 'caution', of: () => markup`<footer>${COMPUTED_BY}</footer>` },
];

function head(chosen: Chosen, ways: ChoiceWays): Markup {
  const { name, title, build, passing, count } = chosen;
  return markup`<header>
<p class="quiet">Shortlist · ${link(ways.toShortlist(), markup`<code>${name}</code>`)} · what to exchange in ${link(ways.toBuild(), markup`<code>${build}</code>`)}</p>
<h1>${title ?? name}</h1>
<p class="verdict ${passing > 0 ? 'clear' : 'error'}">${passing} of ${plural(count, 'candidate')} ${passing === 1 ? 'has' : 'have'} no error in any check or requirement</p>
${[...surelyWords(chosen), ...chosen.notes].map((line) => markup`<p>${line}</p>\n`)}</header>`;
}

function front(chosen: Chosen): Markup | undefined {
  const figure = frontFigure(chosen, rowId);
  return figure && markup`<section><div class="front">${figure}<p class="quiet">${FRONT_NOTE}</p></div></section>`;
}

const FRONT_NOTE =
  'Dashed lines lead through today’s build. Bars are the ± of the difference from it: a bar that does not reach a dashed line is a difference larger than its ±. Pale points pass, but another one is at least as good in all that is preferred.';

/** More than these are folded. */
const MOST_REASONS = 8;

function reasonsTable({ rejected }: Chosen): Markup | undefined {
  if (rejected.length === 0) return undefined;
  const table = (caption: string, reasons: Chosen['rejected']) => {
    const rows = reasons.map(
      ({ reason, count }) =>
        markup`<tr><th scope="row"><code>${reason}</code></th><td class="number">${count}</td></tr>`,
    );
    return markup`<table class="reasons"><caption>${caption}</caption><tbody>${rows}</tbody></table>`;
  };
  const [first, others] = [rejected.slice(0, MOST_REASONS), rejected.slice(MOST_REASONS)];
  const more =
    others.length > 0 &&
    markup`<details><summary>${plural(others.length, 'more reason')}</summary>${table('Further reasons', others)}</details>`;
  return markup`<section><h2>Why the others are rejected</h2>${table('Reasons, and how many candidates are rejected by each', first)}${more || undefined}</section>`;
}

function candidates(chosen: Chosen, ways: ChoiceWays): Markup {
  const { rows, preferences } = chosen;
  const title = preferences.length > 1 ? 'Candidates that no other one beats' : 'Candidates, the best first';
  if (rows.length === 0) return markup`<section><h2>Candidates</h2><p>${NONE_PASSES}</p></section>`;
  const warns = rows.some(({ warnings }) => warnings.length > 0);
  const heads = preferences.map(
    ({ label, isMoreBetter }) =>
      markup`<th scope="col" class="number">${label} <span class="quiet">(${isMoreBetter ? 'more' : 'less'} is better)</span></th>`,
  );
  const last = warns ? markup`<th scope="col">warns of</th>` : undefined;
  const width = preferences.length + (warns ? 2 : 1);
  const bodies = groupsOf(chosen).map(({ members, words }) => {
    const together =
      words === undefined
        ? undefined
        : markup`<tr class="together"><th scope="rowgroup" colspan="${width}">${words}</th></tr>`;
    return markup`<tbody>${together}${members.map((row) => candidate(row, chosen, warns, ways))}</tbody>\n`;
  });
  return markup`<section><h2>${title}</h2>
<div class="scroll" tabindex="0" role="group" aria-label="Candidates"><table class="choices"><caption>Candidates, each compared with today’s build</caption>
<thead><tr><th scope="col">candidate</th>${heads}${last}</tr></thead>
${todayRow(chosen, warns)}${bodies}</table></div><p class="quiet">${TABLE_NOTE}${rows.some(isMade) ? ` ${MADE_NOTE}` : ''}</p></section>`;
}

const NONE_PASSES = 'No candidate passes: there is nothing to choose. The reasons are counted below.';
const TABLE_NOTE =
  'Differences are from today’s build; their ± leaves out what both have in common. Those in bold are larger than their own ±. The percentage is the chance that a candidate is better.';

const MADE_NOTE = 'Parts that exist in no file are taken once they are written into one.';

const isMade = ({ choices }: Row): boolean =>
  choices.some(({ axis, written }) => axis !== 'duty' && written === undefined);

/** As it is, where none of the candidates is that. */
function todayRow({ rows, today, build, preferences }: Chosen, warns: boolean): Markup | undefined {
  if (rows.some(({ isToday }) => isToday)) return undefined;
  const cells = preferences.map(
    ({ unit, label }, i) =>
      markup`<td class="number" data-of="${label}">${levelText(today.values[i]?.level, unit)}</td>`,
  );
  return markup`<tbody><tr><th scope="row"><span class="rank"></span><span class="today">today</span> ${build} on ${today.pack}</th>${cells}${warns ? markup`<td></td>` : undefined}</tr></tbody>\n`;
}

function groupsOf(chosen: Chosen): { readonly members: readonly Row[]; readonly words?: string }[] {
  const { rows } = chosen;
  return [...new Set(rows.map(({ group }) => group))].map((group) => {
    const [words] = groupWords(chosen, group);
    return { members: rows.filter((row) => row.group === group), ...(words !== undefined && { words }) };
  });
}

function candidate(row: Row, chosen: Chosen, warns: boolean, ways: ChoiceWays): Markup {
  const { preferences } = chosen;
  const cells = preferences.map(
    ({ unit, label, isMoreBetter }, i) =>
      markup`<td class="number" data-of="${label}">${judgedWords(row.values[i] ?? { name: '' }, unit, isMoreBetter)}</td>`,
  );
  const warnings = warns
    ? markup`<td data-of="warns of">${row.warnings.map((id, i) => markup`${i > 0 ? ', ' : ''}<code>${id}</code>`)}</td>`
    : undefined;
  const parts = row.choices.map((choice, i) => {
    const place = choice.written === undefined ? undefined : (choice.part ?? choice.option?.part)?.place;
    return markup`${i > 0 ? ' · ' : ''}${link(place && ways.toPart(place), choice.label)}`;
  });
  const button = (way: Markup | undefined, words: string, look = '') =>
    way && markup`<button type="button" class="${look}"${way} aria-label="${words}: ${row.label}">${words}</button>`;
  const buttons = [
    button(ways.toTake(row), 'Take this one', 'take'),
    button(ways.toChange(row), 'Show in text', 'way'),
  ];
  const actions = buttons.some((one) => one) ? markup`<div class="actions">${buttons}</div>` : undefined;
  const today = row.isToday ? markup` <span class="today">today</span>` : undefined;
  return markup`<tr id="${rowId(row)}" tabindex="-1"><th scope="row"><span class="rank">${row.rank}</span>${parts}${today}${actions}</th>${cells}${warnings}</tr>\n`;
}

/** While others are still judged: by values alone. */
export function bestSoFar({ preferences, rows }: Interim): { readonly id: string; readonly html: Markup } {
  const heads = preferences.map(({ label }) => markup`<th scope="col" class="number">${label}</th>`);
  const lines = rows().map(
    ({ label, values }) =>
      markup`<tr><th scope="row">${label}</th>${values.map((value, i) => markup`<td class="number" data-of="${preferences[i]?.label}">${formatValue(value, preferences[i]?.unit ?? '')}</td>`)}</tr>\n`,
  );
  const table =
    lines.length === 0
      ? markup`<p>None has passed so far.</p>`
      : markup`<div class="scroll"><table class="choices"><caption>The best candidates so far</caption><thead><tr><th scope="col">candidate</th>${heads}</tr></thead><tbody>${lines}</tbody></table></div>`;
  const html = markup`<section><h2>The best so far, without ±</h2>${table}</section>`;
  return { id: 'candidates', html };
}

function judgedWords(judged: JudgedResult, unit: string, isMoreBetter: boolean): Content {
  const { level, difference } = judged;
  const shown = markup`<span>${levelText(judged.level, unit)}</span>`;
  if (!difference || !level) return shown;
  if (isSame(judged)) return [shown, markup` <span class="quiet">same as today</span>`];
  const isGain = difference.value > 0 === isMoreBetter;
  const look = difference.isBeyond ? (isGain ? 'gain' : 'loss') : '';
  return [
    shown,
    markup` <span class="${look}">${differenceWords(judged, unit)}</span> <span class="quiet">better: ${chanceWords(judged)}</span>`,
  ];
}
