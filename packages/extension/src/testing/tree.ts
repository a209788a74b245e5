import { Range, type TestController, type TestItem, type TestItemCollection, Uri, workspace } from 'vscode';
import type { BuildRequirements, RequirementOnPack, RequirementSummary, RequirementsAnswer } from './protocol.ts';

/** How a requirement stands on one pack; without a verdict where the text cannot be read at present. */
export interface Judged {
  readonly item: TestItem;
  readonly on?: RequirementOnPack;
  readonly because?: string;
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
      const packs = packsAskedOf(build);
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
      const leaves = asked.map((one) => {
        const item = this.put(pack.children, one.line);
        const isOpen = !isComplete && one.on.verdict === 'cannot be judged';
        judged.push({
          item,
          ...(!isOpen && { on: one.on }),
          ...(one.because !== undefined && { because: one.because }),
        });
        return item;
      });
      judged.push(...withdraw(pack.children, lostOf(pack, leaves), isComplete));
      return pack;
    });
    return [...judged, ...withdraw(build.children, lostOf(build, found), isComplete)];
  }

  private put(collection: TestItemCollection, { id, label, description, uri, range }: Line): TestItem {
    const known = collection.get(id);
    const place = known?.uri?.toString() === uri ? known.uri : Uri.parse(uri, true);
    const item = known && known.uri === place ? known : this.controller.createTestItem(id, label, place);
    item.label = label;
    if (description !== undefined) item.description = description;
    item.range = new Range(range.start.line, range.start.character, range.end.line, range.end.character);
    if (item !== known) collection.add(item);
    return item;
  }
}

interface AskedOfPack {
  readonly line: Line;
  readonly asked: readonly { readonly line: Line; readonly because?: string; readonly on: RequirementOnPack }[];
}

const buildLine = (uri: string, { build, title, range }: BuildRequirements): Line => ({
  id: `${uri} ${build}`,
  label: title ?? build,
  // Names of builds are unique in a folder only.
  description: workspace.asRelativePath(Uri.parse(uri, true)),
  uri,
  range,
});

/** Where nothing is asked there is nothing to run. */
function packsAskedOf({ packs, requirements }: BuildRequirements): AskedOfPack[] {
  return packs
    .map(({ pack, uri, range }) => ({
      line: { id: pack, label: `on ${pack}`, uri, range },
      asked: askedOn(pack, requirements),
    }))
    .filter(({ asked }) => asked.length > 0);
}

function askedOn(pack: string, requirements: readonly RequirementSummary[]): AskedOfPack['asked'] {
  const times = new Map<string, number>();
  return requirements.flatMap(({ text, because, uri, range, packs }) => {
    const on = packs.find((one) => one.pack === pack);
    if (on === undefined) return [];
    const time = (times.get(text) ?? 0) + 1;
    times.set(text, time);
    // A build may say what its rules say already.
    const line: Line = { id: time === 1 ? text : `${text} (${time})`, label: text, uri, range };
    return [{ line, ...(because !== undefined && { because }), on }];
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
export function leavesOf(item: TestItem): TestItem[] {
  if (item.children.size === 0) return [item];
  return [...item.children].flatMap(([, child]) => leavesOf(child));
}

export function rootOf(item: TestItem): TestItem {
  return item.parent ? rootOf(item.parent) : item;
}
