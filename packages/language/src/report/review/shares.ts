/**
 * What each of several changes does on its own: the old version, with that one change made in it, read and computed again. Parts that
 * come are put in beforehand: alone they change nothing, and the other changes may name them.
 */
import type { URI } from 'langium';
import { assessPlainly } from '../../analysis/assess.ts';
import { type Finding, packsOf } from '../../checks/finding.ts';
import { checkDocument } from '../../checks/run.ts';
import { type Defect, guarded } from '../../syntax/defects.ts';
import type { Change } from './changes.ts';
import type { ResultChange } from './differences.ts';
import type { Files } from './file-tree.ts';
import type { FindingChange } from './finding-changes.ts';
import type { CausingChange, Share } from './review-data.ts';
import { buildsOf, type SideBuild, Workspace } from './side.ts';

export interface ShareQuestion {
  /** Of the build's declaration in the old version. */
  readonly id: string;
  /** The file of the build. */
  readonly uri: string;
  readonly changes: readonly Change[];
  /** By pack option, results that differ beyond their ±. */
  readonly results: ReadonlyMap<string, readonly ResultChange[]>;
  /** New, worse and resolved ones. */
  readonly findings: readonly FindingChange[];
}

/** More is not worked out: nobody reads it, and it takes seconds. */
const MOST_TRIALS = 400;
const MOST_CHANGES = 12;

export class Trials {
  readonly #workspace: Workspace;
  readonly #texts: ReadonlyMap<string, string>;
  readonly #pathOf: (uri: string) => string;
  #left = MOST_TRIALS;
  assessments = 0;
  /** Of a text that is in neither version: its difference is reported without shares. */
  readonly defects: Defect[] = [];

  constructor(root: URI, files: Files, pathOf: (uri: string) => string) {
    this.#workspace = new Workspace(root, files);
    this.#pathOf = pathOf;
    const decoder = new TextDecoder();
    this.#texts = new Map([...files].map(([path, bytes]) => [path, decoder.decode(bytes)]));
  }

  open = (): Promise<void> => this.#workspace.open();

  /** Whether there is room for all of a question's changes. */
  takes({ changes }: ShareQuestion): boolean {
    const trials = changes.filter(({ edit }) => edit).length;
    if (trials > MOST_CHANGES || trials > this.#left) return false;
    this.#left -= trials;
    return true;
  }

  /** Each change is made once, and applied to all builds that rest on it. */
  async ask(questions: readonly ShareQuestion[]): Promise<Map<ShareQuestion, CausingChange[]>> {
    const causes = new Map<ShareQuestion, CausingChange[]>(questions.map((question) => [question, []]));
    const start = this.#builds();
    const starts = new Map(
      questions.map((question) => [question, this.#guarded(question, () => this.#plain(question, start))]),
    );
    for (const change of new Set(questions.flatMap(({ changes }) => changes))) {
      const concerned = questions.filter(({ changes }) => changes.includes(change));
      if (!change.edit) {
        for (const question of concerned) causes.get(question)?.push({ change, shares: new Map(), findings: [] });
        continue;
      }
      const path = this.#pathOf(change.edit.place.uri);
      const text = this.#texts.get(path) ?? '';
      const { start: from, end } = change.edit.place;
      await this.#workspace.change(new Map([[path, text.slice(0, from) + change.edit.newText + text.slice(end)]]));
      const changed = this.#builds();
      for (const question of concerned) {
        const cause = this.#guarded(question, () => ({
          change,
          shares: this.#shares(question, starts.get(question), changed),
          findings: this.#findings(question, changed),
        }));
        if (cause) causes.get(question)?.push(cause);
      }
      await this.#workspace.change(new Map([[path, text]]));
    }
    return causes;
  }

  #builds(): Map<string, SideBuild> {
    const documents = this.#workspace.documents();
    return buildsOf(documents, documents, this.defects);
  }

  readonly #guarded = <T>({ uri }: ShareQuestion, run: () => T): T | undefined => guarded(this.defects, uri, run);

  /** Values without ±, by pack option and result. */
  #plain({ id, results }: ShareQuestion, builds: ReadonlyMap<string, SideBuild>): Map<string, Map<string, number>> {
    const build = builds.get(id)?.build;
    const values = new Map<string, Map<string, number>>();
    for (const option of build?.packs ?? []) {
      if (!build || !results.get(option.name)?.length) continue;
      this.assessments += 1;
      const { results: computed } = assessPlainly(build, option);
      values.set(option.name, new Map([...computed.values()].map(({ name, estimate }) => [name, estimate.value])));
    }
    return values;
  }

  #shares(
    question: ShareQuestion,
    start: ReadonlyMap<string, ReadonlyMap<string, number>> | undefined,
    builds: ReadonlyMap<string, SideBuild>,
  ): Map<string, Share[]> {
    const values = this.#plain(question, builds);
    const shares = new Map<string, Share[]>();
    for (const [pack, results] of question.results) {
      shares.set(
        pack,
        results.flatMap(({ name }) => {
          const before = start?.get(pack)?.get(name);
          const after = values.get(pack)?.get(name);
          return before === undefined || after === undefined ? [] : [{ result: name, value: after - before }];
        }),
      );
    }
    return shares;
  }

  #findings({ id, findings }: ShareQuestion, builds: ReadonlyMap<string, SideBuild>): string[] {
    const build = builds.get(id)?.build;
    if (!build || findings.length === 0) return [];
    this.assessments += build.packs.length;
    const { findings: found, defects } = checkDocument({ problems: [], builds: [build] }, false);
    this.defects.push(...defects);
    return [...new Set(findings.filter((change) => isItsDoing(change, found)).map(({ finding }) => finding.id))];
  }
}

function isItsDoing({ status, finding, packs }: FindingChange, found: readonly Finding[]): boolean {
  const isThere = found.some(
    (other) =>
      other.id === finding.id &&
      other.accepted === undefined &&
      (status === 'resolved' || other.severity === finding.severity) &&
      (packs.length === 0 || packs.some((pack) => packsOf(other).includes(pack))),
  );
  return status === 'resolved' ? !isThere : isThere;
}
