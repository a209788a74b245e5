/** Markdown that the server writes, as HTML. It quotes texts that somebody else may have sent: nothing of them runs. */
import DOMPurify from 'dompurify';
import { marked } from 'marked';

/** Links that the page follows itself: see `followLinks`. */
const OWN_LINK = /^(?:command:fettle\.showExplanation\?|fettle-reference:|https:\/\/|#)/i;

export const sanitized = (html: string): string =>
  DOMPurify.sanitize(html, {
    USE_PROFILES: { html: true },
    FORBID_ATTR: ['style', 'id', 'name'],
    FORBID_TAGS: ['style', 'form', 'input', 'button', 'img', 'video', 'audio', 'iframe'],
    ALLOWED_URI_REGEXP: OWN_LINK,
  });

export function rendered(markdown: string): HTMLElement {
  const element = document.createElement('div');
  element.className = 'markdown';
  element.innerHTML = sanitized(marked.parse(markdown, { async: false }));
  return element;
}
