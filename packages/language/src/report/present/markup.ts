/** HTML and SVG put together so that nothing a file states becomes markup: whatever is put into a template is text, unless it is markup already. */
import { terminalSafe } from '../../syntax/terminal-safe.ts';

export class Markup {
  readonly text: string;

  constructor(text: string) {
    this.text = text;
  }

  toString(): string {
    return this.text;
  }
}

export type Content = Markup | string | number | undefined | readonly Content[];

/** ``markup`<b title="${name}">${name}</b>` ``: values are escaped for elements and quoted attributes; numbers keep two decimals. */
export function markup(strings: TemplateStringsArray, ...values: readonly Content[]): Markup {
  return new Markup(strings.reduce((text, next, i) => `${text}${rendered(values[i - 1])}${next}`));
}

function rendered(content: Content): string {
  if (content === undefined) return '';
  if (content instanceof Markup) return content.text;
  if (typeof content === 'number') return String(Number(content.toFixed(2)));
  if (typeof content === 'string') return escaped(content);
  return content.map(rendered).join('');
}

const ENTITIES: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&#39;',
};

/** For elements and quoted attributes, of XML as well: what that has no place for is made visible or replaced. */
export const escaped = (text: string): string =>
  terminalSafe(text)
    .replace(/[\p{Cs}\ufffe\uffff]/gu, '\ufffd')
    .replace(/[&<>"']/g, (character) => ENTITIES[character] ?? character);
