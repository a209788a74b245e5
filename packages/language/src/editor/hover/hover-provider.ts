import { type AstNode, AstUtils, CstUtils, GrammarUtils, type LangiumDocument, type LeafCstNode } from 'langium';
import type { HoverProvider } from 'langium/lsp';
import type { HoverParams } from 'vscode-languageserver-protocol';
import { type Hover, MarkupKind } from 'vscode-languageserver-types';
import type { Assessment } from '../../analysis/assessment.ts';
import { withResult } from '../../analysis/decide/pack-grams.ts';
import { type CheckedBuild, checkDocument } from '../../checks/run.ts';
import { readDocument } from '../../checks/text/read-document.ts';
import {
  isAccept,
  isAlias,
  isAmountNode,
  isChangeNode,
  isCondition,
  isFigureNode,
  isLog,
  isNamedNode,
  isPartNode,
  isPropertyNode,
  isQuantity,
  isRailNode,
  isRequire,
  isResultNode,
  isToleranceNode,
  isUseNode,
  isWord,
  type Log,
  type NamedNode,
  type PartNode,
  type PropertyNode,
  type ResultNode,
  type Target,
  type UseNode,
} from '../../grammar/generated/ast.ts';
import type { Figure, Part } from '../../model/build.ts';
import { readLogLine } from '../../model/log/log-line.ts';
import { partOf } from '../../model/parts.ts';
import { buildsUsing } from '../../resolve/builds-using.ts';
import type { Lookup } from '../../resolve/lookup.ts';
import type { FettleIndex } from '../../resolve/name-index.ts';
import { roleOf, ruleOf } from '../../resolve/role.ts';
import { aliasOf } from '../../syntax/clauses.ts';
import { nameOf } from '../../syntax/entries.ts';
import { type FileDocument, fileDocument, namePlace, partAround } from '../../syntax/nodes.ts';
import { partOfTarget, placeOf } from '../../syntax/source.ts';
import { describeFinding } from '../../vocabulary/findings.ts';
import { propertyNamed, schemaOf } from '../../vocabulary/properties.ts';
import { isFlightResultName, isRailResultName, type ResultId, resultIdOf } from '../../vocabulary/results.ts';
import { WORDS } from '../../vocabulary/words.ts';
import type { ClientCommands } from '../client-commands.ts';
import type { ClientForm } from '../diagnostics/client-form.ts';
import { sortedBySetting } from '../diagnostics/shown-findings.ts';
import type { FindingsValidator } from '../diagnostics/validator.ts';
import type { ClientConfiguration } from '../engine/configuration.ts';
import type { EditorServices } from '../engine/editor-services.ts';
import type { FolderSettings } from '../engine/folder-settings.ts';
import { type PartMargin, shareOf } from '../margins.ts';
import { SHOW_EXPLANATION } from '../requests/protocol.ts';
import { buildText, optionText } from './build-hover.ts';
import { derivationText } from './derivation-hover.ts';
import { flightHover, legHover } from './flight-hover.ts';
import { fettleCode, paragraphs, plain } from './hover-markdown.ts';
import { logHover } from './log-hover.ts';
import { numberText } from './number-hover.ts';
import { partText, propertyText, railText } from './part-hover.ts';
import { requirementText } from './requirement-hover.ts';
import { resultText } from './results-hover.ts';

/** Explains what the pointer is on, with numbers. */
export class FettleHover implements HoverProvider {
  readonly #index: FettleIndex;
  readonly #lookup: Lookup;
  readonly #validator: FindingsValidator;
  readonly #form: ClientForm;
  readonly #client: ClientCommands;
  readonly #configuration: ClientConfiguration;

  constructor(services: EditorServices) {
    this.#index = services.shared.workspace.IndexManager;
    this.#lookup = services.references.Lookup;
    this.#validator = services.validation.DocumentValidator;
    this.#client = services.shared.lsp.ClientCommands;
    this.#form = services.shared.lsp.ClientForm;
    this.#configuration = services.shared.workspace.ConfigurationProvider;
  }

  getHoverContent(document: LangiumDocument, params: HoverParams): Hover | undefined {
    const leaf = leafAt(document, document.textDocument.offsetAt(params.position));
    const text = leaf && this.#textAt(fileDocument(document), leaf);
    if (leaf === undefined || text === undefined || text === '') return undefined;
    return { contents: { kind: MarkupKind.Markdown, value: text }, range: leaf.range };
  }

  #textAt(document: FileDocument, leaf: LeafCstNode): string | undefined {
    const node = leaf.astNode;
    const leg = isNamedNode(node) ? undefined : this.#legText(node);
    if (leg !== undefined) return leg;
    switch (leaf.tokenType.name) {
      case 'KEY':
        return isPropertyNode(node) ? this.#keyText(document, node) : undefined;
      case 'NUMBER':
      case 'UNIT':
        return this.#dutyText(document, node) ?? numberAt(leaf);
      case 'FINDING':
        return isAccept(node) || isChangeNode(node) ? findingText(leaf.text, this.#form.pageOf(leaf.text)) : undefined;
      case 'STRING':
        if (isUseNode(node)) return this.#useText(document, node);
        break;
    }
    if (isNamedNode(node) || isResultNode(node)) {
      const index = [node.head, ...node.tail].findIndex((reference) => reference?.$refNode?.offset === leaf.offset);
      return index < 0 ? undefined : this.#nameText(document, node, index);
    }
    if (isPartNode(node)) {
      const isHeader = leaf.text === node.kind || leaf === GrammarUtils.findNodeForProperty(node.$cstNode, 'name');
      return isHeader ? this.#partText(document, node) : undefined;
    }
    if (isRailNode(node)) return this.#railText(node);
    if (isAlias(node)) {
      const line = AstUtils.getContainerOfType(node, isPropertyNode);
      return withOption(
        line?.key === 'pack' ? this.#optionOf(document, line) : undefined,
        this.#targetText(document, node),
      );
    }
    const log = AstUtils.getContainerOfType(node, isLog);
    if (log !== undefined) return this.#logText(document, log);
    const requirement = AstUtils.getContainerOfType(node, isRequire);
    return requirement === undefined ? undefined : requirementText(requirement, this.#buildAround(document, node));
  }

  /** What was found in the log of a flight, and how far it is from what the build gives. */
  #logText(document: FileDocument, log: Log): string | undefined {
    const line = readLogLine(log);
    if (line.file !== undefined && 'failed' in line.file) {
      return line.file.failed === 'reading' ? 'The log is being read.' : undefined;
    }
    return line.log === undefined ? undefined : logHover(line.log, this.#buildAround(document, log));
  }

  // ---- parts and builds ----

  #partText(document: FileDocument, node: PartNode): string {
    const checked = node.kind === 'build' ? this.#buildAround(document, node) : undefined;
    if (checked !== undefined) {
      return buildText(checked, this.#findingsOf(document, checked), this.#settingsOf(document));
    }
    const hasFigures = node.kind !== 'build' && node.kind !== 'rules' && node.kind !== 'flight';
    const users = buildsUsing(node, this.#index);
    const names = users.map((build) => build.name ?? '');
    const text = partText(node, hasFigures ? partOf(node) : undefined, names, this.#worstMargin(node, users));
    return node.kind === 'flight' ? paragraphs(text, flightHover(node.name ?? '', this.#computed(users))) : text;
  }

  /** The results of a leg, on the craft that fly it. */
  #legText(node: AstNode): string | undefined {
    const line = AstUtils.getContainerOfType(node, isPropertyNode);
    const flight = line?.key === 'leg' ? partAround(line) : undefined;
    if (line === undefined || flight?.kind !== 'flight') return undefined;
    return legHover(flight.name ?? '', placeOf(line), this.#computed(buildsUsing(flight, this.#index)));
  }

  #computed(builds: readonly PartNode[]): CheckedBuild[] {
    return builds.flatMap((build) => this.#buildAround(fileDocument(AstUtils.getDocument(build)), build) ?? []);
  }

  /** Of the part itself: a variant of it may have other ratings. */
  #worstMargin(node: PartNode, users: readonly PartNode[]): PartMargin | undefined {
    const name = namePlace(node);
    const documents = new Set(users.map((build) => AstUtils.getDocument(build)));
    return [...documents]
      .flatMap((document) => this.#validator.marginsIn(document))
      .filter(({ part }) => part.uri === name.uri && part.start === name.start)
      .reduce<PartMargin | undefined>(
        (worst, next) => (worst === undefined || shareOf(next) > shareOf(worst) ? next : worst),
        undefined,
      );
  }

  #railText(node: AstNode): string | undefined {
    const board = partAround(node);
    const rail = isRailNode(node) && board && partOf(board).rails.find((candidate) => candidate.name === node.name);
    return rail ? railText(rail) : undefined;
  }

  #findingsOf(document: LangiumDocument, { build }: CheckedBuild) {
    const own = this.#validator.findingsIn(document).filter((finding) => finding.build === build.name);
    return sortedBySetting(own, this.#settingsOf(document)).shown;
  }

  /** The computed build that a node is in. */
  #buildAround(document: FileDocument, node: AstNode): CheckedBuild | undefined {
    const name = partAround(node)?.name;
    return checkDocument(readDocument(document)).builds.find(({ build }) => build.name === name);
  }

  // ---- names ----

  #nameText(document: FileDocument, holder: NamedNode | ResultNode, index: number): string | undefined {
    if (isResultNode(holder)) {
      const result = this.#resultNameText(document, holder, index);
      if (result !== undefined) return result;
    }
    const target = [holder.head, ...holder.tail][index]?.ref;
    const line = AstUtils.getContainerOfType(holder, isPropertyNode);
    const text = target && this.#targetText(document, target);
    if (line?.key === 'pack' && isPartNode(target)) return withOption(this.#optionOf(document, line), text);
    const isOption = roleOf(holder).sort === 'option';
    return isOption ? withOption(this.#optionNamed(document, holder, holder.head.$refText), text) : text;
  }

  /** `hover_time`, or any word of `rail.video.voltage`. */
  #resultNameText(document: FileDocument, holder: ResultNode, index: number): string | undefined {
    const names = [holder.head, ...holder.tail].map((reference) => reference.$refText);
    const isLast = index === names.length - 1;
    const word = names[index] ?? '';
    if (names.length > 1 && (!isLast || !(isRailResultName(word) || isFlightResultName(word)))) return undefined;
    const written = resultIdOf(names.join('.'));
    if (!written) return undefined;
    const assessments = (this.#buildAround(document, holder)?.assessments ?? []).map((one) => withResult(written, one));
    // `rail.Board35.video.voltage` may be known under the shorter name, `rail.video.voltage`.
    const shorter = names.length > 3 ? resultIdOf(['rail', ...names.slice(2)].join('.')) : undefined;
    const isKnown = assessments.some(({ results, missing }) => results.has(written) || missing.has(written));
    const name = isKnown ? written : (shorter ?? written);
    const how = assessments[0] && this.#howItCameAbout(document, name, assessments[0]);
    return resultText(name, assessments, this.#settingsOf(document), how);
  }

  /** In the hover itself, or behind a link where the client can show it elsewhere. */
  #howItCameAbout(document: LangiumDocument, result: ResultId, assessment: Assessment): string | undefined {
    const { build, option } = assessment;
    const requested = { uri: document.uri.toString(), build: build.name, pack: option.name, result };
    return this.#client.link(SHOW_EXPLANATION, 'How this came about', requested) ?? derivationText(result, assessment);
  }

  #targetText(document: FileDocument, target: Target | AstNode): string | undefined {
    if (isPartNode(target)) return this.#partText(fileDocument(AstUtils.getDocument(target)), target);
    if (isRailNode(target)) return this.#railText(target);
    if (isAlias(target)) {
      const part = partOfTarget(target);
      return part && paragraphs(`${fettleCode(target.name ?? '')} is`, this.#partText(document, part));
    }
    if (isUseNode(target)) return `${fettleCode(target.name ?? '')} opens ${fettleCode(target.path ?? '')}`;
    const meaning = isWord(target) ? WORDS.get(target.name) : undefined;
    return isWord(target) && meaning ? paragraphs(`**${plain(target.name)}**`, meaning) : undefined;
  }

  /** What a `use` brings. */
  #useText(document: FileDocument, use: UseNode): string | undefined {
    const opening = this.#lookup.openings.forUse(document, use);
    const entries = opening === undefined ? [] : [...this.#lookup.openings.allEntries(opening)];
    const kinds = [...new Set(entries.map(({ kind }) => kind))];
    const lines = kinds.map((kind) => {
      const names = entries.filter((entry) => entry.kind === kind).map(({ name }) => fettleCode(name));
      return `${kind}: ${names.join(', ')}`;
    });
    return lines.length === 0 ? undefined : paragraphs(`Opens ${fettleCode(use.path ?? '')}`, lines.join('  \n'));
  }

  // ---- lines ----

  /** On the `duty 80 %` of a pack: its results at that duty. */
  #dutyText(document: FileDocument, node: AstNode): string | undefined {
    const clause = AstUtils.getContainerOfType(node, isCondition);
    const line = AstUtils.getContainerOfType(node, isPropertyNode);
    return clause?.word === 'duty' && line !== undefined ? this.#optionOf(document, line) : undefined;
  }

  #keyText(document: FileDocument, line: PropertyNode): string | undefined {
    const rule = ruleOf(line);
    if (rule === undefined) return undefined;
    const option = rule.name === 'pack' ? this.#optionOf(document, line) : undefined;
    const range = rule.shape === 'range' ? blockPart(line.$container)?.range(rule.name) : undefined;
    return withOption(option, propertyText(rule, figureOf(line), range));
  }

  #optionOf(document: FileDocument, line: PropertyNode): string | undefined {
    return this.#optionNamed(document, line, aliasOf(line) ?? nameOf(line));
  }

  /** The results of a build on a pack that it names. */
  #optionNamed(document: FileDocument, node: AstNode, name: string): string | undefined {
    const checked = this.#buildAround(document, node);
    const assessment = checked?.assessments.find(({ option }) => option.name === name);
    return (
      checked && assessment && optionText(assessment, this.#findingsOf(document, checked), this.#settingsOf(document))
    );
  }

  #settingsOf({ uri }: LangiumDocument): FolderSettings {
    return this.#configuration.settingsOf(uri.toString());
  }
}

/** What a pack makes of this build comes first, then what it is. */
function withOption(option: string | undefined, part: string | undefined): string | undefined {
  return option === undefined ? part : paragraphs(option, part && '---', part);
}

/** The token under the pointer; at the border of two the one that is no blank. */
function leafAt(document: LangiumDocument, offset: number): LeafCstNode | undefined {
  const root = document.parseResult.value.$cstNode;
  if (root === undefined) return undefined;
  const leaf = CstUtils.findLeafNodeAtOffset(root, offset);
  if (leaf !== undefined && !leaf.hidden && /[\p{L}\p{Nd}%]/u.test(leaf.text)) return leaf;
  const before = CstUtils.findLeafNodeAtOffset(root, offset - 1);
  return before !== undefined && !before.hidden && before.end === offset ? before : (leaf ?? undefined);
}

function numberAt(leaf: LeafCstNode): string | undefined {
  const node = leaf.astNode;
  if (!isFigureNode(node) && !isAmountNode(node) && !isQuantity(node) && !isToleranceNode(node)) return undefined;
  const line = AstUtils.getContainerOfType(node, isPropertyNode);
  const isValue = isFigureNode(node) && line !== undefined && node === line.value && node.times.length === 0;
  return node.number === undefined
    ? undefined
    : numberText(node.number, node.unit, isValue ? figureOf(line) : undefined);
}

/** The first number that a line of a part, a rail or an observation states. */
function figureOf(line: PropertyNode): Figure | undefined {
  const part = blockPart(line.$container);
  const property = part && propertyNamed(part.kind, line.key);
  return property && part.firstNumber(property);
}

function blockPart(block: AstNode): Part | undefined {
  if (isPartNode(block)) {
    return 'mass' in schemaOf(block.kind).properties || block.kind === 'rules' ? partOf(block) : undefined;
  }
  const around = partAround(block);
  return isRailNode(block) && around !== undefined
    ? partOf(around).rails.find((rail) => rail.name === block.name)
    : undefined;
}

function findingText(id: string, page: string | undefined): string | undefined {
  const meaning = describeFinding(id);
  return meaning && paragraphs(`**${plain(id)}**`, plain(meaning), page && `[What it means](${page})`);
}
