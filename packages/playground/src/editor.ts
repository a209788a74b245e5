/** The text editor: what CodeMirror brings along, and what the server adds. It is in a shadow root, where its styles need no exception in the page's policy. */
import { autocompletion, closeBrackets, closeBracketsKeymap, completionKeymap } from '@codemirror/autocomplete';
import { defaultKeymap, history, historyKeymap, indentWithTab } from '@codemirror/commands';
import { bracketMatching, indentUnit } from '@codemirror/language';
import { lintKeymap } from '@codemirror/lint';
import { formatKeymap, jumpToDefinitionKeymap, type LSPClient, serverCompletionSource } from '@codemirror/lsp-client';
import { highlightSelectionMatches, search, searchKeymap } from '@codemirror/search';
import { EditorState, type Extension } from '@codemirror/state';
import {
  drawSelection,
  EditorView,
  highlightActiveLine,
  highlightActiveLineGutter,
  keymap,
  lineNumbers,
  tooltips,
} from '@codemirror/view';
import { fettleLanguage, meanings } from './highlight.ts';
import { renameKeymap } from './rename-part.ts';

const LOOK = EditorView.theme({
  '&': { height: '100%', color: 'var(--ink)', backgroundColor: 'var(--paper)', fontSize: '14px' },
  '&.cm-focused': { outline: 'none' },
  '.cm-scroller': { fontFamily: 'ui-monospace, "DejaVu Sans Mono", monospace', lineHeight: '1.5' },
  '.cm-content': { caretColor: 'var(--ink)', padding: '8px 0' },
  '.cm-cursor': { borderLeftColor: 'var(--ink)' },
  '.cm-gutters': { backgroundColor: 'var(--paper)', color: 'var(--quiet)', border: 'none' },
  '.cm-activeLine, .cm-activeLineGutter': { backgroundColor: 'var(--band)' },
  '&.cm-focused > .cm-scroller > .cm-selectionLayer .cm-selectionBackground, .cm-selectionBackground': {
    backgroundColor: 'var(--select)',
  },
  '.cm-selectionMatch': { backgroundColor: 'var(--select)' },
  '.cm-tooltip': {
    color: 'var(--ink)',
    backgroundColor: 'var(--fill)',
    border: '1px solid var(--hair)',
    borderRadius: '4px',
    boxShadow: '0 4px 16px #0003',
  },
  '.cm-tooltip-autocomplete > ul > li[aria-selected]': { backgroundColor: 'var(--mark)', color: 'var(--on-mark)' },
  '.cm-completionDetail': { color: 'inherit', opacity: '.75' },
  '.cm-completionInfo': { maxWidth: '26rem' },
  '.cm-panels': { color: 'var(--ink)', backgroundColor: 'var(--fill)' },
  '.cm-panels input, .cm-panels button': { font: 'inherit', color: 'inherit', backgroundColor: 'var(--paper)' },
  '.cm-lintRange-error': { backgroundImage: 'none', textDecoration: 'underline wavy var(--error) 1.5px' },
  '.cm-lintRange-warning': { backgroundImage: 'none', textDecoration: 'underline wavy var(--warning) 1.5px' },
  '.cm-lintRange-info': { backgroundImage: 'none', textDecoration: 'underline dotted var(--info) 1.5px' },
  '.cm-lintRange-hint': { backgroundImage: 'none', textDecoration: 'underline dotted var(--quiet) 1px' },
  '.pointed': {
    padding: '6px 10px',
    maxWidth: 'min(38rem, 90vw)',
    maxHeight: '60vh',
    overflow: 'auto',
    font: '14px/1.45 system-ui, sans-serif',
  },
  '.pointed p': { margin: '4px 0' },
  '.pointed table': { borderCollapse: 'collapse', fontVariantNumeric: 'tabular-nums' },
  '.pointed td, .pointed th': { padding: '1px 10px 1px 0', textAlign: 'left', borderBottom: '1px solid var(--hair)' },
  '.pointed .finding': { borderLeft: '4px solid var(--hair)', paddingLeft: '8px', margin: '4px 0 8px' },
  '.pointed .finding.error': { borderLeftColor: 'var(--error)' },
  '.pointed .finding.warning': { borderLeftColor: 'var(--warning)' },
  '.fixes': { display: 'flex', flexWrap: 'wrap', gap: '6px', margin: '4px 0' },
  '.fixes button': {
    font: 'inherit',
    color: 'var(--ink)',
    background: 'var(--paper)',
    border: '1px solid var(--mark)',
    borderRadius: '4px',
    padding: '2px 8px',
    cursor: 'pointer',
    textAlign: 'left',
  },
  'button.link': {
    font: 'inherit',
    color: 'var(--link)',
    background: 'none',
    border: 'none',
    padding: '0',
    cursor: 'pointer',
    textDecoration: 'underline',
  },
  a: { color: 'var(--link)' },
  '.tok-comment': { color: 'var(--comment)' },
  '.tok-string': { color: 'var(--string)' },
  '.tok-number': { color: 'var(--number)' },
  '.tok-macro': { color: 'var(--unit)' },
  '.tok-property': { color: 'var(--property)' },
  '.tok-keyword, .tok-modifier': { color: 'var(--keyword)' },
  '.tok-type, .tok-namespace': { color: 'var(--type)' },
  '.tok-function, .tok-enumMember': { color: 'var(--function)' },
});

export interface Placed {
  readonly uri: string;
  readonly text: string;
}

/** @param pageExtensions of the page: findings, and what follows a change */
export function stateOf({ uri, text }: Placed, client: LSPClient, pageExtensions: Extension): EditorState {
  return EditorState.create({
    doc: text,
    extensions: [
      lineNumbers(),
      highlightActiveLine(),
      highlightActiveLineGutter(),
      drawSelection(),
      history(),
      bracketMatching(),
      closeBrackets(),
      highlightSelectionMatches(),
      search({ top: true }),
      autocompletion({ override: [serverCompletionSource] }),
      tooltips({ position: 'fixed' }),
      indentUnit.of('  '),
      EditorView.lineWrapping,
      EditorView.contentAttributes.of({ 'aria-label': 'Text of the build', tabindex: '0' }),
      keymap.of([
        ...closeBracketsKeymap,
        ...completionKeymap,
        ...lintKeymap,
        ...formatKeymap,
        ...renameKeymap,
        ...jumpToDefinitionKeymap,
        ...searchKeymap,
        ...historyKeymap,
        ...defaultKeymap,
        indentWithTab,
      ]),
      fettleLanguage,
      meanings,
      LOOK,
      pageExtensions,
      client.plugin(uri, 'fettle'),
    ],
  });
}
