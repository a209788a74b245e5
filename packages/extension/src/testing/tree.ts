import { Location, Range, type TestController, type TestItem, type TestItemCollection, Uri, workspace } from 'vscode';
import type {
  BuildRequirements,
  RequirementOnPack,
  RequirementsAnswer,
} from '../../../language/src/editor/requests/protocol.ts';

/** The outcome of the checks, or of a requirement, on one pack; without a verdict where there is none at present. */
export interface JudgedItem {
  readonly item: TestItem;
  readonly on?: Pick<RequirementOnPack, 'verdict' | 'message' | 'shortMessage'>;
  /** A sentence for each error that the checks found. */
  readonly errors?: readonly string[];
  /** Why there is no verdict, where that is known. */
  readonly whyNot?: string;
  readonly because?: string;
  /** Where it is required, when not in the build's own file. */
  readonly inherited?: Location;
}

interface Line {
  readonly id: string;
  readonly label: string;
  readonly description?: string;
  readonly uri: string;
  readonly range: BuildRequirements['range'];
}

/** The items: builds, below each its packs, below each pack its checks and what is required on it. */
export class RequirementTree {
  readonly #controller: TestController;
  /** The builds of each file. */
  readonly #builds = new Map<string, readonly TestItem[]>();

  constructor(controller: TestController) {
    this.#controller = controller;
  }

  /** Whose builds have items. */
  files(): string[] {
    return [...this.#builds.keys()];
  }

  /** The file whose build an item belongs to. */
  fileOf(item: TestItem): string {
    return String(rootOf(item).uri);
  }

  /**
   * Makes the items of a file those of the answer, keeping what is there: an item that is replaced loses its result. While the text cannot be
   * read nothing is taken away.
   * @param answer absent when the file is gone
   */
  update(file: string, answer: RequirementsAnswer | undefined): JudgedItem[] {
    const { builds, isComplete } = answer ?? { builds: [], isComplete: true };
    const judged: JudgedItem[] = [];
    const found = builds.flatMap((build) => {
      const packs = packsOf(file, build);
      // Without a pack there is nothing to judge.
      if (packs.length === 0) return [];
      const item = this.#put(this.#controller.items, buildLine(file, build));
      judged.push(...this.#updatePacks(item, packs, isComplete));
      return [item];
    });
    const lost = [...(this.#builds.get(file) ?? [])].filter((item) => !found.includes(item));
    judged.push(...withdraw(this.#controller.items, lost, isComplete));
    const left = isComplete ? found : [...found, ...lost];
    if (left.length > 0) this.#builds.set(file, left);
    else this.#builds.delete(file);
    return judged;
  }

  #updatePacks(build: TestItem, packs: readonly OnPack[], isComplete: boolean): JudgedItem[] {
    const judged: JudgedItem[] = [];
    const found = packs.map(({ line, leaves: requested }) => {
      const pack = this.#put(build.children, line);
      const leaves = requested.map(({ line, ...one }) => {
        const item = this.#put(pack.children, line);
        const isOpen = !isComplete && one.on?.verdict === 'cannot be judged';
        judged.push({ item, ...(isOpen ? { whyNot: one.on?.message ?? UNREAD } : one) });
        return item;
      });
      judged.push(...withdraw(pack.children, lostOf(pack, leaves), isComplete));
      return pack;
    });
    return [...judged, ...withdraw(build.children, lostOf(build, found), isComplete)];
  }

  #put(collection: TestItemCollection, { id, label, description, uri, range }: Line): TestItem {
    const known = collection.get(id);
    const item = known ?? this.#controller.createTestItem(id, label, Uri.parse(uri, true));
    item.label = label;
    if (description !== undefined) item.description = description;
    item.range = asRange(range);
    if (item !== known) collection.add(item);
    return item;
  }
}

interface OnPack {
  readonly line: Line;
  readonly leaves: readonly Leaf[];
}

interface Leaf extends Omit<JudgedItem, 'item'> {
  readonly line: Line;
}

/** What is not known better. */
export const UNREAD = 'not judged: a line cannot be read yet';

const buildLine = (uri: string, { build, range }: BuildRequirements): Line => ({
  id: `${uri} ${build}`,
  label: build,
  // Names of builds are unique in a folder only.
  description: workspace.asRelativePath(Uri.parse(uri, true)),
  uri,
  range,
});

/** Of a build that cannot be judged nothing is shown to hold: a tick would be read as one on the build. */
function packsOf(file: string, build: BuildRequirements): OnPack[] {
  return build.packs.map(({ pack, uri, range, checks }) => {
    const line = { id: pack, label: `on ${pack}`, uri: file, range: uri === file ? range : build.range };
    const requested = requiredOn(pack, file, build);
    const isJudged = checks.verdict !== 'cannot be judged';
    const requirements = requested.map(
      ({ on, ...leaf }): Leaf => (isJudged && on ? { ...leaf, on } : { ...leaf, whyNot: checks.message }),
    );
    const own: Leaf = {
      // A requirement is never a single word.
      line: { ...line, id: 'checks', label: 'checks' },
      ...(isJudged ? { on: checks } : { whyNot: checks.message }),
      errors: checks.errors,
    };
    return { line, leaves: [own, ...requirements] };
  });
}

/** An item is in its build's own file, as findings do: another one that shares the line may be healthy. */
function requiredOn(pack: string, file: string, build: BuildRequirements): Leaf[] {
  const times = new Map<string, number>();
  return build.requirements.flatMap(({ text, because, uri, range, packs }) => {
    const on = packs.find((one) => one.pack === pack);
    if (on === undefined) return [];
    const time = (times.get(text) ?? 0) + 1;
    times.set(text, time);
    const isOwn = uri === file;
    // A build may state what its rules state already.
    const id = time === 1 ? text : `${text} (${time})`;
    return [
      {
        line: { id, label: text, uri: file, range: isOwn ? range : build.range },
        on,
        ...(because !== undefined && { because }),
        ...(!isOwn && { inherited: new Location(Uri.parse(uri, true), asRange(range)) }),
      },
    ];
  });
}

const lostOf = (parent: TestItem, found: readonly TestItem[]): TestItem[] =>
  [...parent.children].map(([, item]) => item).filter((item) => !found.includes(item));

/** Takes away what is not there any more; what may come back stays, not judged. */
function withdraw(collection: TestItemCollection, lost: readonly TestItem[], isComplete: boolean): JudgedItem[] {
  if (!isComplete) return lost.flatMap(leavesOf).map((item) => ({ item }));
  for (const { id } of lost) collection.delete(id);
  return [];
}

/** The requirements below an item, or itself. */
function leavesOf(item: TestItem): TestItem[] {
  if (item.children.size === 0) return [item];
  return [...item.children].flatMap(([, child]) => leavesOf(child));
}

const asRange = ({ start, end }: BuildRequirements['range']): Range =>
  new Range(start.line, start.character, end.line, end.character);

export function rootOf(item: TestItem): TestItem {
  return item.parent ? rootOf(item.parent) : item;
}
