import { Location, Range, type TestController, type TestItem, type TestItemCollection, Uri, workspace } from 'vscode';
import type { BuildRequirements, RequirementOnPack, RequirementsAnswer } from '../protocol.ts';

/** How a requirement stands on one pack; without a verdict where the text cannot be read at present. */
export interface Judged {
  readonly item: TestItem;
  readonly on?: RequirementOnPack;
  readonly because?: string;
  /** Where it is asked, when not in the build's own file. */
  readonly inherited?: Location;
}

interface Line {
  readonly id: string;
  readonly label: string;
  readonly description?: string;
  readonly uri: string;
  readonly range: BuildRequirements['range'];
}

/** The items: builds, below each its packs, below each pack what is required on it. */
export class RequirementTree {
  private readonly controller: TestController;
  /** The builds of each file. */
  private readonly builds = new Map<string, readonly TestItem[]>();

  constructor(controller: TestController) {
    this.controller = controller;
  }

  /** Whose builds have items. */
  files(): string[] {
    return [...this.builds.keys()];
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
  update(file: string, answer: RequirementsAnswer | undefined): Judged[] {
    const { builds, isComplete } = answer ?? { builds: [], isComplete: true };
    const judged: Judged[] = [];
    const found = builds.flatMap((build) => {
      const packs = packsAskedOf(file, build);
      if (packs.length === 0) return [];
      const item = this.put(this.controller.items, buildLine(file, build));
      judged.push(...this.updatePacks(item, packs, isComplete));
      return [item];
    });
    const lost = [...(this.builds.get(file) ?? [])].filter((item) => !found.includes(item));
    judged.push(...withdraw(this.controller.items, lost, isComplete));
    const left = isComplete ? found : [...found, ...lost];
    if (left.length > 0) this.builds.set(file, left);
    else this.builds.delete(file);
    return judged;
  }

  private updatePacks(build: TestItem, packs: readonly AskedOfPack[], isComplete: boolean): Judged[] {
    const judged: Judged[] = [];
    const found = packs.map(({ line, asked }) => {
      const pack = this.put(build.children, line);
      const leaves = asked.map(({ line, ...one }) => {
        const item = this.put(pack.children, line);
        const isOpen = !isComplete && one.on.verdict === 'cannot be judged';
        judged.push({ item, ...(isOpen ? {} : one) });
        return item;
      });
      judged.push(...withdraw(pack.children, lostOf(pack, leaves), isComplete));
      return pack;
    });
    return [...judged, ...withdraw(build.children, lostOf(build, found), isComplete)];
  }

  private put(collection: TestItemCollection, { id, label, description, uri, range }: Line): TestItem {
    const known = collection.get(id);
    const item = known ?? this.controller.createTestItem(id, label, Uri.parse(uri, true));
    item.label = label;
    if (description !== undefined) item.description = description;
    item.range = asRange(range);
    if (item !== known) collection.add(item);
    return item;
  }
}

interface AskedOfPack {
  readonly line: Line;
  readonly asked: readonly Asked[];
}

interface Asked {
  readonly line: Line;
  readonly on: RequirementOnPack;
  readonly because?: string;
  readonly inherited?: Location;
}

const buildLine = (uri: string, { build, range }: BuildRequirements): Line => ({
  id: `${uri} ${build}`,
  label: build,
  // Names of builds are unique in a folder only.
  description: workspace.asRelativePath(Uri.parse(uri, true)),
  uri,
  range,
});

/** Where nothing is asked there is nothing to run. */
function packsAskedOf(file: string, build: BuildRequirements): AskedOfPack[] {
  return build.packs
    .map(({ pack, uri, range }) => ({
      line: { id: pack, label: `on ${pack}`, uri: file, range: uri === file ? range : build.range },
      asked: askedOn(pack, file, build),
    }))
    .filter(({ asked }) => asked.length > 0);
}

/** An item stands in its build's own file, as findings do: another one that shares the line may be healthy. */
function askedOn(pack: string, file: string, build: BuildRequirements): Asked[] {
  const times = new Map<string, number>();
  return build.requirements.flatMap(({ text, because, uri, range, packs }) => {
    const on = packs.find((one) => one.pack === pack);
    if (on === undefined) return [];
    const time = (times.get(text) ?? 0) + 1;
    times.set(text, time);
    const isOwn = uri === file;
    // A build may say what its rules say already.
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
function withdraw(collection: TestItemCollection, lost: readonly TestItem[], isComplete: boolean): Judged[] {
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
