/** The commands `fettle.choose`, `fettle.take` and `fettle.try`: a shortlist's candidates, one of them, and a build with other lines. */

import type { CancellationToken } from 'vscode-languageserver';
import type { Location } from 'vscode-languageserver-types';
import type { Assessment } from '../../analysis/assessment.ts';
import { checkDocument } from '../../checks/run.ts';
import { readDocument } from '../../checks/text/read-document.ts';
import { chosenMarkdown } from '../../report/decide/choice-text.ts';
import { frontPicture } from '../../report/decide/front-chart.ts';
import { triedOf } from '../../report/decide/tried.ts';
import { triedMarkdown } from '../../report/decide/tried-text.ts';
import { prose } from '../../report/present/markdown-safe.ts';
import { CannotChoose } from '../../trial/candidates.ts';
import { partOfKindNamed } from '../../trial/trial.ts';
import { buildWith, CannotTry } from '../../trial/trial-lines.ts';
import { membersOf } from '../../units/lookup-table.ts';
import type { ClientEdits } from '../client-edits.ts';
import type { EngineServices } from '../engine/editor-services.ts';
import { buildIn, documentAt, namesBuild, refuse, whenChecked } from './checked-documents.ts';
import { takingOf } from './take-row.ts';

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

export interface TakeArguments {
  readonly uri: string;
  readonly shortlist: string;
  /** Its label, as `TakeTarget` has it. */
  readonly row: string;
}

export async function chooseIn(
  services: EngineServices,
  asked: ChooseArguments,
  cancellation: CancellationToken,
): Promise<string> {
  const chosen = await services.lsp.Choices.of(asked, cancellation);
  const name = prose(asked.shortlist);
  const picture = frontPicture(chosen);
  const image = picture ? `![${name}](${asAddress(picture)})\n\n` : '';
  const take = chosen.rows.length > 0 ? `\nTo take one: the quick fixes at \`${name}\` in the text.\n` : '';
  return `# ${name}\n\n${image}${chosenMarkdown(chosen)}${take}`;
}

/** Writes a row into the build, by an edit that the client applies; returns where. */
export async function takeRow(
  services: EngineServices,
  client: ClientEdits,
  { uri, shortlist: name, row: label }: TakeArguments,
  cancellation: CancellationToken,
): Promise<Location> {
  const { title, build, home, edits, at } = await whenChecked(services, cancellation, () => {
    const node =
      partOfKindNamed(documentAt(services, uri), 'shortlist', name) ?? refuse(`no shortlist ${name} in ${uri}`);
    const chosen =
      services.lsp.Choices.last(uri, name) ??
      refuse(`a text has changed since the candidates of ${name} were judged: show them again, then take one`);
    const row = chosen.rows.find((one) => one.label === label) ?? refuse(`${name} has no candidate “${label}”`);
    return asRefusal(() => takingOf(node, row)) ?? refuse(`${name} names no build that is known`);
  });
  if (edits.length === 0) return refuse(`${build} has ${label} already`);
  if (!client.areApplied)
    return refuse(`the editor applies no edits of the server: the quick fixes at ${name} take a row as well`);
  const failure = await client.apply(title, home, edits);
  return failure === undefined ? at : refuse(`the editor did not apply the edit: ${failure}`);
}

/** What is in no file yet cannot be written into a build. */
function asRefusal<T>(taken: () => T): T {
  try {
    return taken();
  } catch (error) {
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
  const { uri, shortlist }: Given<ChooseArguments> = membersOf(value);
  return typeof uri === 'string' && typeof shortlist === 'string';
}

export function isTakeArguments(value: unknown): value is TakeArguments {
  const { row }: Given<TakeArguments> = membersOf(value);
  return isChooseArguments(value) && typeof row === 'string';
}

export function isTryArguments(value: unknown): value is TryArguments {
  const { lines }: Given<TryArguments> = membersOf(value);
  const areLines = Array.isArray(lines) && lines.length > 0 && lines.every((line) => typeof line === 'string');
  return namesBuild(value) && areLines;
}
