/** A choice as a page that is on its own. Points of the picture lead to their rows. */
import { markup } from '../present/markup.ts';
import { page } from '../present/page.ts';
import type { Chosen } from './choice.ts';
import { CHOICE_SECTIONS, CHOICE_STYLE, type ChoiceWays } from './choice-sections.ts';

const STYLE = `${CHOICE_STYLE}
:focus-visible { outline: 2px solid var(--c0); outline-offset: 2px; }
@media (prefers-contrast: more) { :root, svg { --quiet: var(--ink); --hair: var(--ink); } }
`;

const nowhere = () => undefined;
const NO_WAYS: ChoiceWays = {
  toShortlist: nowhere,
  toBuild: nowhere,
  toPart: nowhere,
  toTake: nowhere,
  toChange: nowhere,
};

export function chosenHtml(chosen: Chosen): string {
  const sections = CHOICE_SECTIONS.flatMap(({ of }) => of(chosen, NO_WAYS) ?? []).map((one) => markup`${one}\n`);
  return page(chosen.title ?? chosen.name, markup`<main>${sections}</main>`, STYLE);
}
