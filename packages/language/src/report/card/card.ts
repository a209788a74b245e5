/** The card for the field: on each pack what to set, where to turn back and where to land, and what to look at before. */
import { type Finding, packsOf } from '../../checks/finding.ts';
import { terminalSafe } from '../../syntax/terminal-safe.ts';
import { formatEnd } from '../../units/print.ts';
import { columns } from '../present/display-width.ts';
import { code, prose } from '../present/markdown-safe.ts';
import { type Markup, markup } from '../present/markup.ts';
import { page } from '../present/page.ts';
import { CAUTION, severityWord } from '../present/report-words.ts';
import { COMPUTED_BY } from '../present/version.ts';
import { wrap } from '../present/wrap.ts';
import type { CardData, CardFlight, CardPack, CardReading } from './card-data.ts';
import {
  beforehand,
  dutyWords,
  earlyWords,
  flightRows,
  formatVolts,
  HOW_TO_READ,
  otherwise,
  preflightOf,
  TO_WRITE_DOWN,
  WRITE_DOWN_NOTE,
} from './card-words.ts';

export const CARD_STYLE = `
article + article { margin-top: 3.5rem; }
article header { display: flex; flex-wrap: wrap; gap: 0 1.4rem; align-items: baseline; justify-content: space-between; }
h2 { margin-top: 1.5rem; }
.packs { display: grid; gap: 0.9rem; grid-template-columns: repeat(auto-fit, minmax(min(100%, 15.5rem), 1fr)); margin: 1rem 0 0.5rem; }
.packs section { border: 1.5px solid var(--ink); border-radius: 4px; padding: 0.5rem 0.8rem 0.6rem; max-width: 30rem; break-inside: avoid; }
.packs h2 { border: 0; margin: 0; padding: 0; overflow-wrap: anywhere; }
.duty { font-weight: 650; }
.duty.limited { display: inline-block; background: var(--ink); color: var(--paper); padding: 0 0.5rem; border-radius: 3px; print-color-adjust: exact; -webkit-print-color-adjust: exact; }
.packs dl { display: grid; grid-template-columns: 1fr auto; gap: 0.05rem 0.8rem; margin: 0.2rem 0; font-variant-numeric: tabular-nums; }
.packs dt { color: var(--quiet); } .packs dd { margin: 0; text-align: right; }
.packs h3 { display: flex; flex-wrap: wrap; justify-content: space-between; align-items: baseline; column-gap: 0.6rem; margin: 0.5rem 0 0; padding-top: 0.35rem; border-top: 1px solid var(--hair); }
.packs h3 span { white-space: nowrap; font-variant-numeric: tabular-nums; margin-left: auto; } .packs h3 .quiet { font-size: 0.87em; font-weight: 500; }
.packs h3 b { font-size: 1.6em; line-height: 1.15; }
ul.todo { list-style: none; padding: 0; margin: 0.3rem 0; max-width: 52rem; }
ul.todo li { padding-left: 1.7rem; position: relative; margin: 0.3rem 0; }
ul.todo li::before { content: ''; position: absolute; left: 0; top: 0.22em; width: 0.85em; height: 0.85em; border: 1.5px solid var(--ink); border-radius: 2px; }
.log td { height: 1.9rem; border-left: 1px solid var(--hair); } .log th { overflow-wrap: anywhere; }
@page { margin: 8mm; }
@media print {
  html { font-size: 9pt; }
  body { font-size: 8.3pt; line-height: 1.27; }
  article + article { break-before: page; margin: 0; }
  .packs { grid-template-columns: repeat(auto-fit, minmax(57mm, 1fr)); gap: 2.5mm; margin-top: 2mm; }
  .packs section { padding: 1mm 2.5mm 1.5mm; }
  h1 { font-size: 15pt; } h2 { margin: 2.5mm 0 1mm; padding-top: 1.2mm; break-after: avoid; }
  p, ul.todo, ul.findings, ul.todo li { margin-top: 0.4mm; margin-bottom: 0.4mm; }
  ul.findings li { padding-top: 0; padding-bottom: 0; }
  .log td { height: 6mm; } .log th { padding-top: 0.5mm; padding-bottom: 0.5mm; }
  footer { margin-top: 2mm; padding-top: 1mm; }
}
`;

/** One page per build. */
export function cardHtml(cards: readonly CardData[]): string {
  const title = cards.map((card) => card.title ?? card.build).join(' · ');
  return page(title, markup`<main>${cards.map(cardArticle)}</main>`, CARD_STYLE);
}

export function cardArticle(card: CardData): Markup {
  const { worry, sentence } = card.verdict;
  return markup`<article>
<header><div><p class="quiet">Card for the field · <code>${card.build}</code></p><h1>${card.title ?? card.build}</h1></div>
<p class="verdict ${worry}">${sentence}</p></header>
<div class="packs">${card.packs.map(packBlock)}</div>
${card.packs.length === 0 ? markup`<p>Nothing can be computed yet.</p>` : markup`<p class="quiet">${HOW_TO_READ}</p>`}
${listed('Cautions', 'findings', card.findings.map(cautionItem))}
${listed('Before flight', 'todo', preflightOf(card).map(item))}
${listed('For assembly', 'todo', card.assembly.map(item))}
${listed('Notes', 'plain', card.notes.map(item))}
${writeDownTable(card)}
<footer>${CAUTION} ${COMPUTED_BY}</footer>
</article>`;
}

function packBlock(pack: CardPack): Markup {
  const early = earlyWords(pack);
  return markup`<section><h2>${pack.pack}</h2>
<p class="duty${pack.dutyLimit < 1 ? ' limited' : ''}">${dutyWords(pack)}</p>
${pairs(beforehand(pack))}
${pack.turnBack && readingBlock('Turn back at', pack.turnBack, pack)}
${pack.land && readingBlock('Land at', pack.land, pack)}
${early === undefined ? undefined : markup`<p>${early}</p>`}
${pack.flights.map(flightBlock)}
${pack.reason === undefined ? undefined : markup`<p>No line to land by: ${pack.reason}.</p>`}</section>`;
}

function readingBlock(what: string, reading: CardReading, pack: CardPack): Markup {
  const { value, plusMinus, unit } = reading.hover;
  const large = plusMinus > 0 ? formatEnd(value, plusMinus, unit, 'upper') : formatVolts(reading.hover);
  const beside = plusMinus > 0 ? markup` <span class="quiet">${formatVolts(reading.hover)}</span>` : undefined;
  return markup`<h3>${what} <span><b>${large}</b>${beside}</span></h3>${pairs(otherwise(reading, pack))}`;
}

/** Of a flight in legs what is read on the way: large the voltage at which to turn back. */
function flightBlock(flight: CardFlight): Markup {
  const volts = flight.turnBack?.voltage;
  const large = volts && markup` <span><b>${formatEnd(volts.value, volts.plusMinus, volts.unit, 'upper')}</b></span>`;
  return markup`<h3>${flight.name}${large}</h3>${pairs(flightRows(flight))}`;
}

const pairs = (of: readonly (readonly [string, string])[]): Markup | undefined =>
  of.length === 0
    ? undefined
    : markup`<dl>${of.map(([label, value]) => markup`<dt>${label}</dt><dd>${value}</dd>`)}</dl>`;

const item = (text: string): Markup => markup`<li>${text}</li>`;

function cautionItem(finding: Finding): Markup {
  const kind = finding.accepted === undefined ? finding.severity : 'accepted';
  return markup`<li class="${kind}"><strong>${headOf(finding)}</strong>${onPacks(finding)}: ${finding.message}${acceptance(finding)}</li>`;
}

const headOf = ({ accepted, severity }: Finding): string =>
  accepted === undefined ? severityWord(severity) : 'accepted';

const onPacks = (finding: Finding): string => (finding.pack === undefined ? '' : ` on ${packsOf(finding).join(', ')}`);

const acceptance = ({ accepted }: Finding): string => (accepted === undefined ? '' : ` Accepted: ${accepted}`);

const listed = (title: string, look: string, items: readonly Markup[]): Markup | undefined =>
  items.length === 0 ? undefined : markup`<h2>${title}</h2><ul class="${look}">${items}</ul>`;

function writeDownTable({ packs }: CardData): Markup | undefined {
  if (packs.length === 0) return undefined;
  const heads = TO_WRITE_DOWN.map(
    ([word, description]) =>
      markup`<th scope="col"><code>${word}</code><br><span class="quiet">${description}</span></th>`,
  );
  const rows = packs.map(
    ({ pack }) => markup`<tr><th scope="row">${pack}</th>${TO_WRITE_DOWN.map(() => markup`<td></td>`)}</tr>`,
  );
  return markup`<h2>To write down</h2><div class="scroll"><table class="log"><thead><tr><th scope="col">pack</th>${heads}</tr></thead><tbody>${rows}</tbody></table></div><p class="quiet">${WRITE_DOWN_NOTE}</p>`;
}

export function cardMarkdown(cards: readonly CardData[]): string {
  const blocks = cards.map((card) => {
    const list = (title: string, items: readonly string[], mark = '- ') =>
      items.length === 0 ? [] : [`## ${title}`, items.map((text) => `${mark}${text}`).join('\n')];
    return [
      `# ${prose(card.title ?? card.build)}`,
      `${code(card.build)}: **${prose(card.verdict.sentence)}**`,
      ...card.packs.flatMap(packMarkdown),
      ...(card.packs.length === 0 ? ['Nothing can be computed yet.'] : [prose(HOW_TO_READ)]),
      ...list(
        'Cautions',
        card.findings.map(
          (finding) =>
            `**${headOf(finding)}**${prose(onPacks(finding))}: ${prose(finding.message + acceptance(finding))}`,
        ),
      ),
      ...list('Before flight', preflightOf(card).map(prose), '- [ ] '),
      ...list('For assembly', card.assembly.map(prose), '- [ ] '),
      ...list('Notes', card.notes.map(prose)),
    ].join('\n\n');
  });
  return `${blocks.join('\n\n---\n\n')}\n\n<sub>${CAUTION} ${COMPUTED_BY}</sub>\n`;
}

function packMarkdown(pack: CardPack): string[] {
  const { turnBack, land, reason } = pack;
  const early = earlyWords(pack);
  const head = [`## ${code(pack.pack)}, ${prose(dutyWords(pack))}`];
  const before = beforehand(pack).map(([label, value]) => `${label}: ${value}`);
  if (before.length > 0) head.push(prose(before.join('; ')));
  if (reason !== undefined) head.push(prose(`No line to land by: ${reason}.`));
  if (!turnBack || !land) return head;
  const rows: readonly (readonly string[])[] = [
    ['**per cell, in hover**', `**${prose(formatVolts(turnBack.hover))}**`, `**${prose(formatVolts(land.hover))}**`],
    ...merged(turnBack, land, pack).map((row) => row.map(prose)),
  ];
  const table = ['| | turn back at | land at |', '|:--|--:|--:|', ...rows.map((row) => `| ${row.join(' | ')} |`)];
  const flights = pack.flights.map(
    (flight) =>
      `**${prose(flight.name)}**: ${prose(
        flightRows(flight)
          .map((row) => row.join(' '))
          .join('; '),
      )}`,
  );
  return [...head, table.join('\n'), ...(early === undefined ? [] : [prose(early)]), ...flights];
}

/** Both moments' other readings side by side. */
function merged(turnBack: CardReading, land: CardReading, pack: CardPack): [string, string, string][] {
  const landing = otherwise(land, pack);
  return otherwise(turnBack, pack).map(([label, value], i) => [label, value, landing[i]?.[1] ?? '']);
}

const WIDTH = 78;

export function cardText(cards: readonly CardData[]): string {
  const blocks = cards.map((card) =>
    [
      `${terminalSafe(card.build)}${card.title === undefined ? '' : `  ${terminalSafe(card.title)}`}`,
      card.verdict.sentence,
      ...card.packs.map((pack) => `\n${packText(pack)}`),
      ...(card.packs.length === 0 ? ['\nNothing can be computed yet.'] : ['', ...wrap(HOW_TO_READ, WIDTH)]),
      ...textList(
        'Cautions',
        card.findings.map(
          (finding) => `${headOf(finding)}${onPacks(finding)}: ${finding.message}${acceptance(finding)}`,
        ),
        '- ',
      ),
      ...textList('Before flight', preflightOf(card), '[ ] '),
      ...textList('For assembly', card.assembly, '[ ] '),
      ...textList('Notes', card.notes, '- '),
    ].join('\n'),
  );
  return `${blocks.join(`\n\n${'─'.repeat(WIDTH)}\n\n`)}\n\n${wrap(`${CAUTION} ${COMPUTED_BY}`, WIDTH).join('\n')}\n`;
}

function packText(pack: CardPack): string {
  const { turnBack, land, reason } = pack;
  const early = earlyWords(pack);
  const rows =
    turnBack && land
      ? [
          ['', 'turn back at', 'land at'],
          ['per cell, in hover', formatVolts(turnBack.hover), formatVolts(land.hover)],
          ...merged(turnBack, land, pack),
        ]
      : [];
  return [
    `${terminalSafe(pack.pack)}: ${dutyWords(pack)}`,
    ...beforehand(pack).map(([label, value]) => `  ${label}: ${value}`),
    ...(rows.length > 0
      ? columns(rows)
          .trimEnd()
          .split('\n')
          .map((line) => `  ${line}`)
      : []),
    ...(early === undefined ? [] : [`  ${terminalSafe(early)}`]),
    ...pack.flights.flatMap((flight) => [
      `  ${terminalSafe(flight.name)}`,
      ...flightRows(flight).map(([label, value]) => `    ${label}: ${value}`),
    ]),
    ...(reason === undefined ? [] : [`  No line to land by: ${terminalSafe(reason)}.`]),
  ].join('\n');
}

function textList(title: string, items: readonly string[], mark: string): string[] {
  if (items.length === 0) return [];
  const indent = ' '.repeat(mark.length);
  return [
    '',
    title,
    ...items.flatMap((text) =>
      wrap(terminalSafe(text), WIDTH - mark.length).map((line, i) => `${i === 0 ? mark : indent}${line}`),
    ),
  ];
}
