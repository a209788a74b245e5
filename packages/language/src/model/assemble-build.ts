/** Builds as plain objects: what is fitted, what feeds what, and the rules that apply. */
import {
  isAccept,
  isFigureNode,
  isLog,
  isNamedNode,
  isNoteNode,
  isObservedNode,
  isPropertyNode,
  type NamedNode,
  type PartNode,
  type PropertyNode,
} from '../grammar/generated/ast.ts';
import { observedInSight } from '../resolve/measured-in-sight.ts';
import { chainOf } from '../syntax/chain.ts';
import { conditionOf, nameBehind } from '../syntax/clauses.ts';
import { countOf, type Entry, entriesOfBuild, namedPart, partAmong } from '../syntax/entries.ts';
import { remembered } from '../syntax/memory.ts';
import { documentOf } from '../syntax/nodes.ts';
import { placeOf, placeOfFeature, uriOf } from '../syntax/source.ts';
import { LENGTH, NONE } from '../units/dimension.ts';
import { keysOf } from '../units/lookup-table.ts';
import { BLOCK_KINDS, type PropertyName } from '../vocabulary/properties.ts';
import type { ResultKey } from '../vocabulary/results.ts';
import type { BlockKind } from '../vocabulary/schema.ts';
import { acceptedBy } from './accepted.ts';
import { arrangementOf, isDefined, isDuty, MOST_KIN, teachingParts } from './arrangements.ts';
import type { Assembled } from './assembled.ts';
import { readBench } from './bench-rows.ts';
import { benchesAbout } from './benches.ts';
import type {
  Build,
  Feed,
  Figure,
  Hole,
  Kin,
  LoadUse,
  Observation,
  PackOption,
  Part,
  Requirement,
  RotorLine,
  Use,
} from './build.ts';
import { resultsIn } from './expressions.ts';
import { Feeds, type Fitted } from './feeds.ts';
import { conditionAmount, exactFigure, OF_A_LINE } from './figures.ts';
import { flightsOf, requiredWith } from './flights.ts';
import { partKey } from './identities.ts';
import { inlineItem, isInline } from './inline.ts';
import { readLogLine } from './log/log-line.ts';
import { isOfKind, ofKind } from './of-kind.ts';
import { identityOf, observedPart, partOf, readNote } from './parts.ts';
import { blocksUnder, isUnder } from './resting.ts';
import { flightShares, rulesOf } from './rules.ts';
import { sideBySide, unlike } from './side-by-side.ts';
import { slotsOf } from './slots.ts';

export const assemble = remembered((node: PartNode): Assembled => new Assembly(node).finish());

/** In `Build.holes`: the end is not there yet, further lines may come. */
const UNCLOSED = '}';

/** Kinds with a line of their name in a build. */
type FittedKind = BlockKind & PropertyName<'build'>;

function partOfKind<Kind extends BlockKind>(named: NamedNode, kind: Kind): Part<Kind> | undefined {
  const node = partAmong(named, [kind]);
  return node && ofKind(partOf(node), kind);
}

class Assembly {
  readonly #node: PartNode;
  readonly #chain: readonly PartNode[];
  readonly #part: Part;
  readonly #entries: readonly Entry[];
  readonly #holes = new Set<Hole>();

  constructor(node: PartNode) {
    this.#node = node;
    const chain = chainOf(node);
    this.#chain = chain.parts;
    this.#part = partOf(node);
    this.#entries = entriesOfBuild(node);
    for (const hole of this.#part.holes) this.#holes.add(hole);
    if (chain.parts.some((part) => part.block && !part.closed)) this.#holes.add(UNCLOSED);
    if (chain.broken) this.#holes.add('like');
  }

  finish(): Assembled {
    const airframe = this.#uses('airframe')[0];
    const boards = this.#fitted('esc');
    const regulators = this.#fitted('regulator');
    const feeds = new Feeds(boards, regulators);
    const loads = this.#loads(feeds);
    const packs = this.#packs();
    const rotors = this.#rotors();
    const named = this.#fitted('rules').map((fitted) => fitted.node);
    const rules = rulesOf(this.#node, named, (written) => feeds.resultInBuild(written));
    const items = [...this.#items(), ...loads.unfed];
    const leads = this.#uses('lead');
    const mounts = [...this.#uses('mount'), ...this.#mountsOfLoads()];
    const dryMass = this.#part.declared('dry_mass');
    const weighed = dryMass && this.#weighed();
    const title = this.#part.title;
    const onBoard = {
      ...(airframe ? { airframe } : {}),
      rotors,
      escs: boards.map((board) => board.use),
      regulators: regulators.map((regulator) => regulator.use),
      loads: loads.fed,
      items,
      leads,
      mounts,
      packs,
    };
    // Notes of boards come first.
    const slots = [...slotsOf(onBoard, ['escs', 'regulators']), ...slotsOf(onBoard)];
    const parts = [...new Set(slots.map(({ part }) => part))];
    this.#addHolesOf(parts);
    const flown = flightsOf(this.#entriesOf('flight'), [...loads.fed, ...items]);
    if (flown.hasHole) this.#holes.add('flight');
    const stands = benchesAbout(this.#node, rotors);
    const blocks = blocksUnder(this.#node, stands);
    const build: Build = {
      name: this.#node.name ?? '',
      ...(title === undefined ? {} : { title }),
      uri: uriOf(this.#node),
      place: this.#part.place,
      ...onBoard,
      rails: feeds.rails,
      spares: this.#spares(),
      flights: flown.flights,
      rules: {
        ...rules,
        requirements: requiredWith(flown.flights, this.#applicable(rules.requirements, packs, feeds)),
      },
      acceptances: this.#node.lines.filter(isAccept).map(acceptedBy).filter(isDefined),
      observations: this.#observations(),
      kin: () => this.#kin(build),
      benches: stands.map(readBench),
      notes: [
        ...this.#chain.flatMap((part) => part.lines.filter(isNoteNode).map(readNote).filter(isDefined)),
        ...parts.flatMap((part) => part.notes),
      ],
      ...(dryMass ? { dryMass } : {}),
      ...(weighed ? { weighed } : {}),
      holes: this.#holes,
      blocks,
      isMadeOf: (place) => isUnder(this.#node, blocks, place),
    };
    return { build, feeds, entries: this.#entries, notOnBoard: flown.missing };
  }

  /** The ancestor whose `dry_mass` counts; it has no weighed ancestor of its own. */
  #weighed(): Build | undefined {
    const node = this.#chain.find(({ lines }) => lines.some((line) => isPropertyNode(line) && line.key === 'dry_mass'));
    return node && node !== this.#node ? assemble(node).build : undefined;
  }

  /** The nearest first. */
  #kin(build: Build): readonly Kin[] {
    const ancestors = this.#chain.slice(1);
    const document = documentOf(this.#node);
    const others = document ? observedInSight(document) : [];
    const nodes = [...new Set([...ancestors, ...others])].filter(
      (node) => node !== this.#node && node.lines.some(isObservedNode),
    );
    const own = new Set(teachingParts(build).map(partKey));
    return nodes
      .map((node) => ({ build: assemble(node).build, isBase: ancestors.includes(node) }))
      .filter(({ build: other }) => teachingParts(other).some((part) => own.has(partKey(part))))
      .slice(0, MOST_KIN);
  }

  #entriesOf(word: PropertyName<'build'>): Entry[] {
    return this.#entries.filter((entry) => entry.word === word);
  }

  /** On the line of their own kind. */
  #uses<Kind extends FittedKind>(kind: Kind): Use<Kind>[] {
    return this.#fitted(kind).map(({ use }) => use);
  }

  #items(): Use<'item'>[] {
    return this.#entriesOf('item')
      .map((entry) => (isInline(entry.line) ? this.#inline(entry) : this.#fit(entry, 'item')?.use))
      .filter(isDefined);
  }

  #spares(): Use[] {
    return this.#entriesOf('spare')
      .map((entry) => this.#fit(entry, ...BLOCK_KINDS)?.use)
      .filter(isDefined);
  }

  #fitted<Kind extends FittedKind>(kind: Kind): Fitted<Kind>[] {
    return this.#entriesOf(kind)
      .map((entry) => this.#fit(entry, kind))
      .filter(isDefined);
  }

  /** What the line of a build names; the vocabulary states of which kind that may be. */
  #fit<Kind extends BlockKind>(entry: Entry, ...kinds: readonly Kind[]): Fitted<Kind> | undefined {
    const node = namedPart(entry.line);
    const part = node && partOf(node);
    const count = countOf(entry.line);
    if (!part || !isOfKind(part, ...kinds) || count === undefined || entry.line.commas.length > 0) {
      this.#holes.add(entry.word);
      return undefined;
    }
    const position = this.#positionOf(entry);
    const use = {
      name: entry.name,
      count,
      part,
      ...(position ? { position } : {}),
      place: placeOf(entry.line),
    };
    return { entry, node, use };
  }

  #positionOf(entry: Entry): Figure | undefined {
    const at = conditionOf(entry.line, 'at');
    const amount = at && conditionAmount(at, LENGTH);
    const identity = {
      id: `${identityOf(entry.build)}.${entry.word}.${entry.name}.at`,
      label: `position of ${entry.name}`,
      whose: OF_A_LINE,
    };
    return amount && exactFigure(identity, amount, placeOf(at));
  }

  #inline(entry: Entry): Use<'item'> | undefined {
    const index = this.#entriesOf(entry.word).indexOf(entry);
    const label = entry.name || `item ${index + 1}`;
    const id = `${identityOf(entry.build)}.${entry.word}[${index}]`;
    const part = inlineItem(entry.line, { id, label, whose: OF_A_LINE });
    if (!part) {
      this.#holes.add(entry.word);
      return undefined;
    }
    return { name: label, count: 1, part, place: placeOf(entry.line) };
  }

  #rotors(): RotorLine[] {
    const positions = { motors: 'single', upper_motors: 'upper', lower_motors: 'lower' } as const;
    return keysOf(positions).flatMap((word) =>
      this.#entriesOf(word)
        .map((entry, index) => this.#rotorLine(entry, index, positions[word]))
        .filter(isDefined),
    );
  }

  #rotorLine(entry: Entry, index: number, position: RotorLine['position']): RotorLine | undefined {
    const fitted = this.#fit(entry, 'motor');
    const clause = conditionOf(entry.line, 'with');
    const propeller = isNamedNode(clause?.value) ? partOfKind(clause.value, 'propeller') : undefined;
    if (!fitted || !propeller || !isFigureNode(entry.line.value)) {
      this.#holes.add(entry.word);
      return undefined;
    }
    const identity = {
      id: `${identityOf(entry.build)}.${entry.word}[${index}].count`,
      label: `number of ${entry.name}`,
      whose: OF_A_LINE,
    };
    const count = exactFigure(
      identity,
      { value: fitted.use.count, dimension: NONE, unit: '' },
      placeOf(entry.line.value),
    );
    return { count, motor: fitted.use.part, propeller, position, place: placeOf(entry.line) };
  }

  /** A load whose source cannot be determined weighs what it weighs, and draws nothing until it can. */
  #loads(feeds: Feeds): { fed: LoadUse[]; unfed: Use<'load'>[] } {
    const fed: LoadUse[] = [];
    const unfed: Use<'load'>[] = [];
    for (const fitted of this.#fitted('load')) {
      const clause = conditionOf(fitted.entry.line, 'from');
      const from = this.#feed(fitted, feeds);
      if (!from) {
        this.#holes.add('load');
        unfed.push(fitted.use);
        continue;
      }
      const mount = this.#mountOf(fitted.entry.line);
      fed.push({
        ...fitted.use,
        from,
        ...(clause ? { fromPlace: placeOf(clause) } : {}),
        ...(mount ? { mount } : {}),
      });
    }
    return { fed, unfed };
  }

  #feed(fitted: Fitted<'load'>, feeds: Feeds): Feed | undefined {
    const result = feeds.resolve(fitted.entry.line);
    if ('feed' in result) return result.feed;
    // A variant that exchanged the board keeps its base's loads, on the rail of the same name.
    const inherited = fitted.entry.build !== this.#node;
    if (!inherited || result.missing !== 'not-fitted' || result.choices.length !== 1) return undefined;
    return feeds.choice(result.choices[0] ?? '');
  }

  #mountOf(line: PropertyNode): Part<'mount'> | undefined {
    const value = conditionOf(line, 'on')?.value;
    return isNamedNode(value) ? partOfKind(value, 'mount') : undefined;
  }

  #mountsOfLoads(): Use<'mount'>[] {
    return this.#entriesOf('load').flatMap((entry) => {
      const part = this.#mountOf(entry.line);
      const clause = conditionOf(entry.line, 'on');
      return part && clause ? [{ name: part.name, count: 1, part, place: placeOf(clause) }] : [];
    });
  }

  #packs(): PackOption[] {
    return this.#fitted('pack')
      .map((fitted) => this.#packOption(fitted))
      .filter(isDefined);
  }

  #packOption({ use, entry }: Fitted<'pack'>): PackOption | undefined {
    const other = this.#packBeside(entry);
    const arrangement = arrangementOf(entry.line, use.count + (other ? 1 : 0));
    const duty = conditionOf(entry.line, 'duty');
    const limit = duty && conditionAmount(duty, NONE);
    if (!arrangement || (duty && !isDuty(limit))) {
      this.#holes.add('pack');
      return undefined;
    }
    const id = `${identityOf(entry.build)}.pack.${use.name}.duty`;
    const identity = { id, label: `duty limit with ${use.name}`, whose: OF_A_LINE };
    const dutyLimit = limit
      ? exactFigure(identity, limit, duty && placeOf(duty))
      : exactFigure(identity, { value: 1, dimension: NONE, unit: '%' }, undefined, 'default');
    const dutyPlace = duty ? { dutyPlace: placeOf(duty) } : {};
    if (!other) return { ...use, arrangement, dutyLimit, ...dutyPlace };
    if (arrangement !== 'parallel' || unlike(use.part, other)) {
      this.#holes.add('pack');
      return undefined;
    }
    const beside = [use, { part: other, count: 1 }] as const;
    const part = sideBySide(`${use.part.name} with ${other.name}`, beside);
    return { ...use, part, count: 1, arrangement: 'single', beside, dutyLimit, ...dutyPlace };
  }

  #packBeside(entry: Entry): Part<'pack'> | undefined {
    const value = conditionOf(entry.line, 'with')?.value;
    return isNamedNode(value) ? partOfKind(value, 'pack') : undefined;
  }

  /**
   * A base's requirement for a pack that the variant no longer flies has nothing to apply to; one that refers to a result nobody
   * knows has its own problem in the text. Rules may refer to a rail that this build does not have: that is for the checks to report.
   */
  #applicable(requirements: readonly Requirement[], packs: readonly PackOption[], feeds: Feeds): Requirement[] {
    const rails = new Set(feeds.rails.map((rail) => rail.name));
    const isKnown = (of: ResultKey | undefined, from: string | undefined) =>
      of !== undefined && (of.of !== 'rail' || from !== undefined || rails.has(of.owner.join('.')));
    return requirements.filter(({ pack, condition, from }) => {
      const isFlown = pack === undefined || packs.some((option) => option.name === pack);
      return isFlown && [...resultsIn(condition)].every(({ of }) => isKnown(of, from));
    });
  }

  #observations(): Observation[] {
    const craft = identityOf(this.#node);
    return this.#node.lines.filter(isObservedNode).map((observed, index) => {
      const pack = nameBehind(observed, 'with');
      const id = `${craft}.observed[${index}]`;
      const part = observedPart(observed, id);
      const place = placeOfFeature(observed, observed.title === undefined ? 'clauses' : 'title');
      const flown = flightShares(observed.lines, id, 'observed', part.name);
      const line = observed.lines.find(isLog);
      const log = line && readLogLine(line).log;
      return {
        id,
        craft,
        title: observed.title ?? '',
        ...(pack === undefined ? {} : { pack }),
        part,
        flown,
        ...(log && { log }),
        place,
      };
    });
  }

  #addHolesOf(parts: readonly Part[]): void {
    for (const part of parts) {
      for (const hole of part.holes) this.#holes.add(`${part.kind}.${hole}`);
      for (const rail of part.rails) for (const hole of rail.holes) this.#holes.add(`rail.${hole}`);
    }
  }
}
