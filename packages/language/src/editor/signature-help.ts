/** What belongs in the line under the cursor, slot by slot, the one that is typed now in front. */

import type { IToken } from 'chevrotain';
import type { LangiumDocument, Lexer } from 'langium';
import type { SignatureHelpProvider } from 'langium/lsp';
import { type SignatureHelpParams, SignatureHelpTriggerKind } from 'vscode-languageserver-protocol';
import { MarkupKind, type SignatureHelp } from 'vscode-languageserver-types';
import { isPartWord } from '../grammar/reserved-words.ts';
import { COMPARING_SIGNS } from '../syntax/comparison-signs.ts';
import { headerShape, type LineShape, SENTENCE_SHAPES, type Slot, shapeOf } from '../syntax/sentence-shapes.ts';
import { schemaOf } from '../vocabulary/properties.ts';
import type { BlockKind } from '../vocabulary/schema.ts';
import { type Cursor, cursorAt } from './completion/cursor.ts';
import { segmentAt } from './completion/value-completion.ts';
import type { EditorServices } from './engine/editor-services.ts';
import { requestedText } from './engine/requested-text.ts';

export class FettleSignatureHelp implements SignatureHelpProvider {
  readonly signatureHelpOptions = { triggerCharacters: [' ', ':', '"'], retriggerCharacters: ['>', '<', '+'] };
  readonly #lexer: Lexer;

  constructor(services: EditorServices) {
    this.#lexer = services.parser.Lexer;
  }

  provideSignatureHelp(document: LangiumDocument, params: SignatureHelpParams): SignatureHelp | undefined {
    const { position, context } = params;
    const text = requestedText(document, params);
    const cursor = cursorAt(text, text.offsetAt(position), this.#lexer);
    const shape = cursor && shapeAt(cursor);
    if (!cursor || !shape) return undefined;
    // A single value needs no help: its completion and hover have it.
    const isAsked = context?.triggerKind === SignatureHelpTriggerKind.Invoked || context?.isRetrigger === true;
    const isPlain = shape.slots.every(({ word }) => word === undefined || BASIS.has(word));
    if (isPlain && context !== undefined && !isAsked) return undefined;
    const active = activeSlot(shape, cursor);
    return {
      signatures: [
        {
          label: [shape.start, ...shape.slots.map(shown), ...(shape.end ? [shape.end] : [])].join(' '),
          documentation: { kind: MarkupKind.Markdown, value: shape.description },
          parameters: shape.slots.map((slot) => ({
            label: slot.text,
            documentation: { kind: MarkupKind.Markdown, value: slot.description },
          })),
        },
      ],
      activeSignature: 0,
      activeParameter: active,
    };
  }
}

const BASIS: ReadonlySet<string> = new Set(['+-', 'measured']);

const shown = ({ text, isOptional }: Slot): string => (isOptional ? `[${text}]` : text);

function shapeAt({ head, blocks }: Cursor): LineShape | undefined {
  const name = head?.tokenType.name;
  if (head === undefined || name === undefined) return undefined;
  if (name === 'KEY') {
    const { kind } = blocks[0] ?? {};
    const properties = kind === undefined || kind === 'rows' ? {} : schemaOf(kind).properties;
    const property = Object.hasOwn(properties, head.image) ? properties[head.image] : undefined;
    return property && shapeOf(property);
  }
  if (isPartWord(name) && blocks.length === 0) return headerShape(name, schemaOf<BlockKind>(name).description);
  return SENTENCE_SHAPES.get(name);
}

const SOURCES: ReadonlySet<string> = new Set(['measured', 'claimed', 'estimated']);

function activeSlot({ slots }: LineShape, { before, string }: Cursor): number {
  const { clause } = segmentAt(before);
  const word = clause !== undefined && SOURCES.has(clause) ? 'measured' : clause;
  const named = word === undefined ? -1 : slots.findIndex((slot) => slot.word === word);
  if (named >= 0) return named;
  const at = plainSlot(slots, before, string !== undefined);
  return Math.min(at, slots.length - 1);
}

/** Of a value without a clause word: behind a count, a comparison or a name. */
function plainSlot(slots: readonly Slot[], before: readonly IToken[], isString: boolean): number {
  const has = (names: ReadonlySet<string>): boolean => before.some(({ tokenType }) => names.has(tokenType.name));
  const limit = slots.findIndex(({ word }) => word === '>=');
  if (limit >= 0) return has(COMPARING_SIGNS) ? limit : 0;
  const title = slots.findIndex(({ word }) => word === '"');
  if (title >= 0) return isString || before.length > 0 ? title : 0;
  const [first] = slots;
  if (first?.text !== 'COUNT x') return 0;
  const isNumber = before.some(({ tokenType }) => tokenType.name === 'NUMBER');
  return has(TIMES) || (first.isOptional && !isNumber) ? 1 : 0;
}

const TIMES: ReadonlySet<string> = new Set(['TIMES']);
