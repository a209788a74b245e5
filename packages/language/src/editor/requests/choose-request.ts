/** The commands `fettle.choose` and `fettle.try`: a shortlist's candidates, and a build with other lines, in Markdown. */
import type { CancellationToken } from 'vscode-languageserver';
import { LSPErrorCodes, ResponseError } from 'vscode-languageserver-protocol';
import type { Assessment } from '../../analysis/assessment.ts';
import { checkDocument } from '../../checks/run.ts';
import { readDocument } from '../../checks/text/read-document.ts';
import { Cancelled, type Chosen, choose } from '../../report/decide/choice.ts';
import { chosenMarkdown } from '../../report/decide/choice-text.ts';
import { frontPicture } from '../../report/decide/front-chart.ts';
import { triedOf } from '../../report/decide/tried.ts';
import { triedMarkdown } from '../../report/decide/tried-text.ts';
import { prose } from '../../report/present/markdown-safe.ts';
import { CannotChoose, spaceOf } from '../../trial/candidates.ts';
import { buildWith, CannotTry } from '../../trial/lines.ts';
import { partNamed } from '../../trial/trial.ts';
import type { EngineServices } from '../engine/editor-services.ts';
import { buildIn, documentAt, refuse, whenChecked } from './checked-documents.ts';

export interface ChooseArguments {
  readonly uri: string;
  readonly shortlist: string;
}

export interface TryArguments {
  readonly uri: string;
  readonly build: string;
  /** As in a build: `item: 30 g`. */
  readonly lines: readonly string[];
}

/** What was last found of a shortlist, for edits that take one of its rows: as long as the text is the one it was found in. */
const found = new Map<string, { readonly version: number; readonly chosen: Chosen }>();
const MOST_KEPT = 8;

/** Of a server: what a shortlist’s lens shows has changed. */
const listeners = new WeakMap<EngineServices, () => void>();

export function onChosen(services: EngineServices, listener: () => void): void {
  listeners.set(services, listener);
}

export const lastChosen = (uri: string, name: string, version: number): Chosen | undefined => {
  const known = found.get(`${uri}#${name}`);
  return known?.version === version ? known.chosen : undefined;
};

export async function chooseIn(
  services: EngineServices,
  { uri, shortlist: name }: ChooseArguments,
  cancellation: CancellationToken,
): Promise<string> {
  const { document, node } = await whenChecked(services, cancellation, () => {
    const asked = documentAt(services, uri);
    const part = partNamed(asked, 'shortlist', name) ?? refuse(`no shortlist ${name} in ${uri}`);
    return { document: asked, node: part };
  });
  const { version } = document.textDocument;
  try {
    const space = await spaceOf({ shared: services }, document, node);
    const chosen = await choose(space, { isCancelled: () => cancellation.isCancellationRequested });
    found.delete(`${uri}#${name}`);
    if (found.size >= MOST_KEPT) found.delete(found.keys().next().value ?? '');
    found.set(`${uri}#${name}`, { version, chosen });
    listeners.get(services)?.();
    const picture = frontPicture(chosen);
    const image = picture ? `![${prose(name)}](${asAddress(picture)})\n\n` : '';
    const take = chosen.rows.length > 0 ? `\nTo take one: the quick fixes at \`${name}\` in the text.\n` : '';
    return `# ${prose(name)}\n\n${image}${chosenMarkdown(chosen)}${take}`;
  } catch (error) {
    if (error instanceof Cancelled) throw new ResponseError(LSPErrorCodes.RequestCancelled, 'cancelled');
    if (error instanceof CannotChoose) return refuse(error.message);
    throw error;
  }
}

/** Brackets would end the link. */
const asAddress = (svg: string): string =>
  `data:image/svg+xml;utf8,${encodeURIComponent(svg).replace(/[()']/g, (sign) => `%${sign.charCodeAt(0).toString(16)}`)}`;

export async function tryIn(
  services: EngineServices,
  { uri, build: name, lines }: TryArguments,
  cancellation: CancellationToken,
): Promise<string> {
  const { document, before } = await whenChecked(services, cancellation, () => {
    const asked = documentAt(services, uri);
    const { findings } = checkDocument(readDocument(asked));
    const checked = buildIn(asked, name);
    return { document: asked, before: { ...checked, findings: findings.filter(({ build }) => build === name) } };
  });
  try {
    const { build, trial, changesPack } = await buildWith({ shared: services }, document, name, lines);
    const after = checkDocument(readDocument(trial.document));
    const then = after.builds.find((one) => one.build === build);
    const side = {
      build,
      assessments: then?.assessments ?? [],
      findings: after.findings.filter((one) => one.build === build.name),
    };
    const pairs = side.assessments.flatMap((other): (readonly [Assessment, Assessment])[] => {
      const same = before.assessments.find(({ option }) => option.name === other.option.name);
      const one = same ?? (changesPack ? before.assessments[0] : undefined);
      return one ? [[one, other]] : [];
    });
    if (pairs.length === 0) return refuse(`nothing can be computed for ${name} with these lines`);
    return `# ${prose(name)}, what if\n\n${triedMarkdown(triedOf(before, side, lines, pairs))}`;
  } catch (error) {
    if (error instanceof CannotTry) return refuse(`“${error.line}”: ${error.message}`);
    throw error;
  }
}

type Given<T> = Partial<Record<keyof T, unknown>>;

export function isChooseArguments(value: unknown): value is ChooseArguments {
  const { uri, shortlist } = (value ?? {}) as Given<ChooseArguments>;
  return typeof uri === 'string' && typeof shortlist === 'string';
}

export function isTryArguments(value: unknown): value is TryArguments {
  const { uri, build, lines } = (value ?? {}) as Given<TryArguments>;
  const areLines = Array.isArray(lines) && lines.length > 0 && lines.every((line) => typeof line === 'string');
  return typeof uri === 'string' && typeof build === 'string' && areLines;
}
