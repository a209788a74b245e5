/** A page that is on its own: no script, nothing loaded from anywhere, light and dark by the reader's own setting. */
import { CHART_COLOURS, CHART_STYLE } from './chart.ts';
import { type Content, Markup, markup } from './markup.ts';

/** How what is on a page looks, also where an editor shows it. */
export const CONTENT_STYLE = `
* { box-sizing: border-box; }
h1 { font-size: 1.9rem; line-height: 1.15; margin: 0.1rem 0 0.3rem; letter-spacing: -0.01em; overflow-wrap: anywhere; }
h2 { font-size: 1.15rem; margin: 2.4rem 0 0.7rem; padding-top: 0.6rem; border-top: 2px solid var(--ink); }
h3 { font-size: 1rem; margin: 0.6rem 0 0.2rem; overflow-wrap: break-word; }
p { margin: 0.4rem 0; max-width: 44rem; }
.quiet, footer { color: var(--quiet); }
footer { margin-top: 2.5rem; padding-top: 0.7rem; border-top: 1px solid var(--hair); font-size: 0.87rem; }
table { border-collapse: collapse; width: 100%; font-variant-numeric: tabular-nums; }
caption { position: absolute; width: 1px; height: 1px; overflow: hidden; clip-path: inset(50%); white-space: nowrap; }
th, td { text-align: left; padding: 0.32rem 0.9rem 0.32rem 0; border-bottom: 1px solid var(--hair); vertical-align: top; }
thead th, thead td { border-bottom: 1.5px solid var(--ink); }
.asked td:nth-last-child(3) { overflow-wrap: anywhere; min-width: 7.5rem; } .asked td:last-child { min-width: 12rem; }
th[scope=row] { font-weight: 500; min-width: 6.5rem; }
td.number, th.number { text-align: right; } th.number { overflow-wrap: anywhere; }
td.number { white-space: nowrap; } :is(.by-pack, .labelled) td.number { white-space: normal; } td.number span { white-space: nowrap; }
td.none { color: var(--quiet); font-size: 0.87rem; text-align: right; }
/* A shade at the edge shows that there is more behind it. What covers it begins outside: rounded to pixels, it may miss some. */
.scroll { position: relative; overflow-x: auto; background:
  linear-gradient(to right, var(--paper) 50%, transparent) -4px -4px / 2.4rem calc(100% + 8px) no-repeat local,
  linear-gradient(to left, var(--paper) 50%, transparent) right -4px top -4px / 2.4rem calc(100% + 8px) no-repeat local,
  linear-gradient(to right, transparent 1px, var(--quiet) 1px, transparent) left / 0.7rem 100% no-repeat scroll,
  linear-gradient(to left, transparent 1px, var(--quiet) 1px, transparent) right / 0.7rem 100% no-repeat scroll; }
.pair { display: grid; gap: 0.6rem 1.6rem; grid-template-columns: repeat(auto-fit, minmax(min(100%, 21rem), 1fr)); }
.glance { display: grid; gap: 0.8rem; margin: 1.1rem 0 0.4rem; grid-template-columns: repeat(auto-fit, minmax(min(100%, 10.6rem), 1fr)); }
.pack { border: 1.5px solid var(--hair); border-radius: 4px; padding: 0.5rem 0.65rem; max-width: 26rem; break-inside: avoid; }
.pack .name { margin: 0 0 0.2rem; padding: 0; border: 0; font-weight: 650; overflow-wrap: anywhere; }
.pack dl { margin: 0; font-variant-numeric: tabular-nums; }
.pack dl div { display: flex; flex-wrap: wrap; justify-content: space-between; align-items: baseline; column-gap: 0.6rem; border-top: 1px solid var(--hair); padding: 0.15rem 0; }
.pack dt { flex: 0 0 100%; color: var(--quiet); } .pack dd { margin: 0; } .pack dd b { font-size: 1.35em; }
.pack dd span { font-size: 0.93em; } .pack dd b, .pack dd span { display: inline-block; white-space: nowrap; }
.pack p:not(.name) { margin: 0.2rem 0 0; padding-top: 0.2rem; border-top: 1px solid var(--hair); }
.worst.error strong { color: var(--c1); } .worst.error strong::before { content: '✕ ' / ''; } .worst.warning strong::before { content: '△ ' / ''; }
figure { margin: 0; max-width: 36rem; }
figcaption { font-weight: 600; overflow-wrap: anywhere; }
.chart { display: block; width: 100%; height: auto; }
.narrow { display: none; max-width: 36rem; }
@media screen and (max-width: 760px) { .wide { display: none; } .narrow { display: block; } }
/* Where columns have no room, each row names itself and its values follow below. */
@media screen and (max-width: 560px) {
  .glance { grid-template-columns: repeat(auto-fit, minmax(min(100%, 10rem), 1fr)); gap: 0.5rem; }
  .pack { padding: 0.4rem 0.55rem; }
  table, thead, tbody { display: block; }
  tr { display: flex; flex-wrap: wrap; border-bottom: 1px solid var(--hair); }
  th, td { border: 0; padding: 0.2rem 0.5rem 0.2rem 0; overflow-wrap: anywhere; }
  thead td { display: none; }
  .by-pack thead { position: sticky; top: 0; background: var(--paper); border-bottom: 1.5px solid var(--ink); }
  thead th { border: 0; }
  tbody th { flex: 0 0 100%; padding-bottom: 0; color: var(--quiet); }
  .by-pack thead th, td, td.number, td.none { flex: 1 1 0; min-width: 0; white-space: normal; text-align: left; font-size: 0.93rem; }
  .asked thead, .many thead { display: none; }
  .asked td:last-child { flex: 0 0 100%; }
  .many td, .many td.number { flex: 0 0 100%; display: flow-root; text-align: right; }
  .many td::before { content: attr(data-of); float: left; max-width: 55%; text-align: left; }
  .many td:empty { display: none; }
}
ul.findings { list-style: none; padding: 0; margin: 0.3rem 0; }
ul.findings li { padding: 0.45rem 0 0.45rem 0.9rem; border-left: 5px solid var(--hair); margin: 0.5rem 0; max-width: 52rem; overflow-wrap: anywhere; }
ul.findings li.error { border-left-color: var(--c1); border-left-style: double; border-left-width: 7px; }
ul.findings li.warning { border-left-color: var(--c4); border-left-style: dashed; }
.verdict { display: inline-block; margin: 0.5rem 0 0; padding: 0.2rem 0.7rem; border: 1.5px solid currentColor; border-radius: 3px; font-weight: 600; }
.verdict.error::before { content: '✕ ' / ''; } .verdict.warning::before { content: '△ ' / ''; } .verdict.clear::before { content: '✓ ' / ''; }
.verdict.error { color: var(--alarm); } .verdict.warning { color: var(--c4); } .verdict.clear { color: var(--c2); }
details { margin-top: 0.8rem; } summary { cursor: pointer; }
`;

/** How a page of its own looks. */
export const PAGE_STYLE = `
html { color-scheme: light dark; background: var(--paper); }
body { margin: 0 auto; padding: 2.2rem clamp(1rem, 4vw, 2.5rem) 3rem; max-width: 62rem; color: var(--ink);
  font: 15px/1.5 system-ui, sans-serif; background: var(--paper); }
code { font: 0.92em ui-monospace, monospace; }
@page { margin: 14mm; }
@media print {
  body { padding: 0; max-width: none; font-size: 10.5pt; }
  h2, h3 { break-after: avoid; } figure, tr, li { break-inside: avoid; }
  details:not([open]) { display: none; }
  .findings details:not([open]) { display: block; }
}
`;

/** @param style of this sort of page, on top of what all share */
export function page(title: string, body: Content, style = ''): string {
  const document = markup`<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'">
<title>${title}</title>
<style>${new Markup(CHART_COLOURS + CHART_STYLE + CONTENT_STYLE + PAGE_STYLE + style)}</style>
</head>
<body>
${body}
</body>
</html>
`;
  return document.text;
}
