/** Builds and parts of a text, read in a workspace in memory. */

import { type DocumentModel, readDocument } from '../../packages/language/src/checks/text/read-document.ts';
import type { Build, Figure, Part } from '../../packages/language/src/model/build.ts';
import type { FigureName } from '../../packages/language/src/vocabulary/properties.ts';
import { Workspace } from '../references/memory-workspace.ts';

export async function modelsOf(texts: Readonly<Record<string, string>>): Promise<Record<string, DocumentModel>> {
  const workspace = await Workspace.of(texts);
  const paths = Object.keys(texts).filter((path) => path.endsWith('.fettle'));
  return Object.fromEntries(paths.map((path) => [path, readDocument(workspace.document(path))]));
}

/** One file on its own. */
export async function modelOf(text: string): Promise<DocumentModel> {
  const models = await modelsOf({ 'barn/all.fettle': text });
  return models['barn/all.fettle'] as DocumentModel;
}

export function partNamed(model: DocumentModel, name: string): Part {
  const part = model.parts.find((candidate) => candidate.name === name);
  if (!part) throw new Error(`no part ${name}`);
  return part;
}

export function buildNamed(model: DocumentModel, name: string): Build {
  const build = model.builds.find((candidate) => candidate.name === name);
  if (!build) throw new Error(`no build ${name}`);
  return build;
}

export function figureOf(part: Part, property: FigureName): Figure {
  const figure = part.figure(property);
  if (!figure) throw new Error(`${part.name} has no ${property}`);
  return figure;
}
