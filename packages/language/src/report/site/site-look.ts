/** The look of a site, beyond that of its sheets, and the script of its search. */
export const SITE_STYLE = `
.site { display: flex; flex-wrap: wrap; gap: 0.3rem 1.6rem; align-items: baseline; padding-bottom: 0.6rem; margin-bottom: 1.4rem; border-bottom: 1px solid var(--hair); }
.site ul, .ways, ul.plain { list-style: none; margin: 0; padding: 0; }
.site ul, .ways { display: flex; flex-wrap: wrap; gap: 0.2rem 1.2rem; }
.ways { margin-bottom: 1rem; }
a { color: inherit; text-decoration: underline; text-underline-offset: 0.3em; text-decoration-thickness: 1px; }
a:hover { text-decoration-thickness: 2px; }
a[aria-current] { font-weight: 650; text-decoration: none; }
:focus-visible { outline: 2px solid currentColor; outline-offset: 2px; }
thead th { vertical-align: bottom; }
thead th.number { white-space: normal; text-wrap: balance; }
th .verdict { margin: 0.2rem 0 0; padding: 0; border: 0; font-size: 0.9rem; font-weight: 500; }
td { overflow-wrap: break-word; } td.named { overflow-wrap: anywhere; min-width: 7.8rem; } th[scope=rowgroup] { overflow-wrap: anywhere; min-width: 8rem; }
.labelled :is(td, th) { padding-right: 0.6rem; } td.reason { min-width: 9rem; }
@media screen and (max-width: 560px) {
  .labelled thead { display: none; }
  .labelled td { flex: 1 1 100%; } .labelled td.number { flex: 1 1 40%; }
  .labelled td::before { content: attr(data-of); display: block; color: var(--quiet); font-size: 0.8rem; }
  .labelled td.named { font-weight: 650; padding-bottom: 0; }
}
#found li { padding: 0.25rem 0; border-bottom: 1px solid var(--hair); overflow-wrap: anywhere; }
#found .quiet { display: inline-block; min-width: 6rem; }
input { font: inherit; color: inherit; background: var(--paper); border: 1px solid var(--quiet); border-radius: 3px; padding: 0.2rem 0.5rem; }
ol.text { list-style: none; margin: 0; padding: 0; overflow-x: auto; }
ol.text li { display: flex; gap: 1rem; align-items: baseline; }
ol.text li:target { background: var(--fill); }
ol.text code { flex: 1; min-width: 0; line-height: 1.5; white-space: pre-wrap; overflow-wrap: anywhere; }
ol.text .number { flex: 0 0 3rem; text-align: right; text-decoration: none; color: var(--quiet); font-variant-numeric: tabular-nums; user-select: none; }
.w-comment { color: var(--quiet); font-style: italic; }
.w-keyword, .w-modifier { font-weight: 650; }
.w-string { color: var(--c2); }
.w-number, .w-macro { color: var(--c3); }
.w-property { color: var(--c0); }
@media print { .site, .ways { display: none; } }
`;

/** Hides what does not contain every word that was typed; without it the list is whole. */
export const SEARCH_SCRIPT = `const box = document.querySelector('#search');
const input = box.querySelector('input');
const status = box.querySelector('[role=status]');
const items = [...document.querySelectorAll('#found li')].map((item) => ({ item, text: item.textContent.toLowerCase() }));
function search() {
  const words = input.value.toLowerCase().split(/\\s+/).filter(Boolean);
  let count = 0;
  for (const { item, text } of items) {
    item.hidden = !words.every((word) => text.includes(word));
    if (!item.hidden) count++;
  }
  status.textContent = words.length === 0 ? '' : count + ' found';
}
box.hidden = false;
input.addEventListener('input', search);
input.value = new URLSearchParams(location.search).get('q') ?? '';
search();
input.focus();
`;
