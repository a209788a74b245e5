/** What a change does to every build: two versions of a repository's files in, results and findings before and after out. */
import type { URI } from 'langium';
import type { Assessment } from '../../analysis/assessment.ts';
import { type CheckedBuild, type CheckedDocument, checkDocument } from '../../checks/run.ts';
import { partId } from '../../model/identities.ts';
import type { Declaration } from '../../model/statements.ts';
import { type Defect, guarded } from '../../syntax/defects.ts';
import { HEADLINES } from '../../vocabulary/headlines.ts';
import { atLeast } from '../../vocabulary/severities.ts';
import { failuresOf } from '../checked.ts';
import { Sources } from '../present/sources.ts';
import { changeReachOf, openedAmong, outlinesOf, samePaths } from './change-reach.ts';
import { type Change, Changes, restsOnTheSame } from './changes.ts';
import { resultChanges, widenedAmong } from './differences.ts';
import { pathBelow, type Tree } from './file-tree.ts';
import { type FindingAbout, type FindingChange, findingChanges, isGone, type Worsening } from './finding-changes.ts';
import { flightsOtherThan } from './flight-legs-before.ts';
import { byGravity, nearestLimit } from './gravity.ts';
import { type Forgiven, forgivenBy, withHidden } from './hidden.ts';
import { judgedLinesOf, judgement, withPacksOf } from './judgement.ts';
import { declaredBefore, matchedParts } from './matched-parts.ts';
import { measurementLoosenings } from './measurements.ts';
import { neededFiles, withNewParts } from './needed-files.ts';
import { flightLoosenings } from './other-flights.ts';
import { withNamesOf } from './pack-names.ts';
import { Pairing } from './pairing.ts';
import { exchanges, figureLoosenings, limitLoosenings } from './raised-limits.ts';
import { type Judgement, type Loosening, loweredAnew, relaxations } from './relaxations.ts';
import { restatements } from './restated-facts.ts';
import type { BuildReview, OptionReview, Review, Version } from './review-data.ts';
import { alone, questionOf, withoutShares } from './shared-out.ts';
import { type ShareQuestion, Trials } from './shares.ts';
import { readSide, type Side, type SideBuild } from './side.ts';
import { Subjects } from './subjects.ts';
import { tooNew, unreadable } from './unjudged.ts';
import { unkept } from './unkept.ts';
import { Excesses, isMuchWorse } from './worsening.ts';

export interface Request {
  /** The repository's folder; files are named from there. */
  readonly root: URI;
  readonly base: Version & { readonly tree: Tree };
  readonly head: Version & { readonly tree: Tree };
  /** Whether builds of a file are requested. */
  readonly isAsked: (path: string) => boolean;
  /** Whether something is at a path, whether or not a version has it. */
  readonly isOnDisk?: (path: string) => boolean;
}

export async function review(request: Request): Promise<Review> {
  const { base, head, root } = request;
  const pathOf = (uri: string) => pathBelow(root, uri);
  const same = samePaths(base.tree.files, head.tree.files);
  const outlinesBefore = outlinesOf(base.tree.files);
  const outlinesAfter = outlinesOf(head.tree.files, outlinesBefore, same);
  const differs = (path: string) => !same.has(path) && (base.tree.files.has(path) || head.tree.files.has(path));
  const reach = changeReachOf(outlinesBefore, outlinesAfter, differs);
  const isReached = (path: string) => reach.reached.has(path);
  const filesBefore = neededFiles(base.tree.files, reach, outlinesBefore);
  const filesAfter = neededFiles(head.tree.files, reach, outlinesAfter);
  const before = await readSide(root, filesBefore, isReached, pathOf);
  const after = await readSide(root, filesAfter, isReached, pathOf);

  const submodules = [...new Set([...base.tree.submodules, ...head.tree.submodules])];
  const notOurs = openedAmong(submodules, [outlinesBefore, outlinesAfter]).map((path) => [path, NOT_OURS] as const);

  const missed = unkept(outlinesBefore, outlinesAfter, {
    trees: [base.tree, head.tree],
    isAsked: request.isAsked,
    isReached,
    isOnDisk: request.isOnDisk ?? (() => false),
  });

  const holdsBuilds = [outlinesBefore, outlinesAfter].some((outlines) =>
    [...outlines].some(([path, outline]) => request.isAsked(path) && (outline?.builds ?? 0) > 0),
  );
  const comparison = new ReviewComparison({ ...request, isOfParts: !holdsBuilds, differs }, before, after, pathOf);
  const trials = new Trials(root, withNewParts(filesBefore, before, after, pathOf), pathOf);
  const builds = await comparison.builds(trials);
  const text = comparison.text();
  const failures = [
    ...[...unreadable(head.tree, after, reach), ...notOurs, ...missed, ...tooNew(text, pathOf)].map(
      ([path, message]) => ({ path, message }),
    ),
    ...failuresOf([...before.defects, ...after.defects, ...comparison.defects, ...trials.defects], pathOf),
  ];
  const unjudged = new Set(failures.map(({ path }) => path));
  return {
    base: versionOf(base),
    head: versionOf(head),
    builds: builds.map((one) => ({ ...one, isUnjudged: unjudged.has(pathOf(one.uri)) })).sort(byGravity(pathOf)),
    text,
    shortlists: comparison.shortlists(),
    buildsInAll: [...outlinesAfter].reduce(
      (sum, [path, outline]) => sum + (!holdsBuilds || request.isAsked(path) ? (outline?.builds ?? 0) : 0),
      0,
    ),
    failures,
    remarks: [
      ...[...unreadable(base.tree, before, reach)].map(([path, message]) => `${path} in ${base.name}: ${message}`),
      ...(head.tree.broken ?? []).map((path) => `${path} is a link to no file of this version, and so left out`),
      ...(head.tree.leftOut ?? []).map((path) => `${path} is not staged, and so left out`),
    ],
    work: {
      changedFiles: reach.changed.length,
      filesRead: before.documents.length + after.documents.length,
      buildsCompared: comparison.compared,
      buildsAssessed: builds.length,
      assessments: comparison.assessments,
      shareAssessments: trials.assessments,
    },
    before: comparison.sourcesBefore,
    after: comparison.sourcesAfter,
    pathOf,
  };
}

const NOT_OURS =
  'a submodule: what is in it is not read, so builds that open it are not judged. Review it in its own repository, and check the builds with it in place';

const versionOf = ({ name, commit, on }: Version): Version => ({
  name,
  ...(commit !== undefined && { commit }),
  ...(on !== undefined && { on }),
});

interface Compared {
  readonly review: Omit<BuildReview, 'causes' | 'unshared' | 'isUnjudged'>;
  readonly changes: readonly Change[];
  readonly question?: ShareQuestion;
}

const NOTHING: Forgiven = { relaxations: [], together: [], hidden: [] };

type Checked = Pick<CheckedDocument, 'builds' | 'findings'> & Pick<CheckedBuild, 'assessments'>;

interface Asking extends Request {
  /** No build is in the requested paths. */
  readonly isOfParts: boolean;
  /** Whether a file, by its path, is another one in the two versions. */
  readonly differs: (path: string) => boolean;
}

class ReviewComparison {
  readonly sourcesBefore: Sources;
  readonly sourcesAfter: Sources;
  readonly defects: Defect[] = [];
  compared = 0;
  assessments = 0;
  readonly #request: Asking;
  readonly #before: Side;
  readonly #after: Side;
  readonly #pairing: Pairing;
  readonly #changes: Changes;
  readonly #pathOf: (uri: string) => string;
  readonly #subjectsBefore: Subjects;
  readonly #subjectsAfter: Subjects;

  constructor(request: Asking, before: Side, after: Side, pathOf: (uri: string) => string) {
    this.#request = request;
    this.#before = before;
    this.#after = after;
    this.#pathOf = pathOf;
    this.#pairing = new Pairing(before.declarations, after.declarations);
    this.#changes = new Changes(before, after, this.#pairing, this.#differs);
    this.sourcesBefore = Sources.of(before.documents);
    this.sourcesAfter = Sources.of(after.documents);
    const toNew = (one: Declaration) => after.declarations.get(this.#pairing.toNew(one.id)) ?? one;
    const isInBoth = (id: string) => after.declarations.has(id) && before.declarations.has(this.#pairing.toOld(id));
    this.#subjectsBefore = new Subjects(before, this.sourcesBefore, toNew, isInBoth);
    this.#subjectsAfter = new Subjects(after, this.sourcesAfter, (one) => one, isInBoth);
  }

  async builds(trials: Trials): Promise<Omit<BuildReview, 'isUnjudged'>[]> {
    const compared = [...this.#pairs()].flatMap(([before, after]) => {
      const uri = (after ?? before)?.build.uri ?? '';
      return guarded(this.defects, uri, () => [this.#compare(before, after)]) ?? [];
    });
    const questions = compared.flatMap(({ question }) => (question && trials.takes(question) ? [question] : []));
    if (questions.length > 0) await trials.open();
    const answers = await trials.ask(questions);
    return compared.map(({ review: done, changes, question }) => {
      const answered = new Map((question && answers.get(question))?.map((cause) => [cause.change, cause]));
      const causes = changes.map((change) => answered.get(change) ?? withoutShares(change));
      return { ...done, causes, unshared: question !== undefined && answered.size === 0 };
    });
  }

  /** Builds that rest on something that was changed, came or went. */
  *#pairs(): Iterable<readonly [SideBuild | undefined, SideBuild | undefined]> {
    for (const [id, after] of this.#after.builds) {
      const before = this.#before.builds.get(this.#pairing.toOld(id));
      if (!this.#isAsked(after) && !(before && this.#isAsked(before))) continue;
      this.compared += 1;
      const isSame = guarded(
        this.defects,
        after.build.uri,
        () => before && restsOnTheSame(before, after, this.#differs),
      );
      if (isSame !== true) yield [before, after];
    }
    for (const [id, before] of this.#before.builds) {
      if (this.#isAsked(before) && !this.#after.builds.has(this.#pairing.toNew(id))) {
        this.compared += 1;
        yield [before, undefined];
      }
    }
  }

  #compare(old: SideBuild | undefined, after: SideBuild | undefined): Compared {
    const before = old && after ? { ...old, build: withNamesOf(after.build, old.build) } : old;
    const build = (after ?? before)?.build;
    if (!build) throw new Error('a build that is in neither version');
    const was = this.#check(before);
    const now = this.#check(after);
    const options = this.#options(was.assessments, now.assessments);
    const judgements =
      before &&
      after &&
      ([
        judgement(this.#before, withPacksOf(after, before), was.findings, this.sourcesBefore),
        judgement(this.#after, after, now.findings, this.sourcesAfter),
      ] as const);
    const changed = findingChanges(
      foundIn(was, this.#subjectsBefore),
      foundIn(now, this.#subjectsAfter),
      worseningOf(was, now),
    ).filter(
      // What cannot be judged any more is not resolved.
      ({ status }) => status !== 'resolved' || !after || after.build.holes.size === 0,
    );
    const {
      relaxations: relaxed,
      together,
      hidden,
    } = judgements
      ? this.#forgiven(...judgements, changed)
      : after && !before
        ? this.#forgivenAnew(judgement(this.#after, after, now.findings, this.sourcesAfter))
        : NOTHING;
    const findings = withHidden(changed, hidden);
    const changes = this.#changes.of(before, after);
    const moved = before && after && before.build.uri !== after.build.uri ? before.build.uri : undefined;
    const question = before && after && questionOf(before, after, changes, options, findings);
    return {
      review: {
        name: build.name,
        ...(build.title !== undefined && { title: build.title }),
        uri: build.uri,
        ...(moved !== undefined && { movedFrom: moved }),
        ...(before && before.build.name !== build.name && { renamedFrom: before.build.name }),
        status: before ? (after ? 'changed' : 'removed') : 'added',
        options,
        findings,
        relaxations: relaxed,
        hiddenTogether: together,
      },
      changes,
      ...(question && { question }),
    };
  }

  #forgiven(before: Judgement, after: Judgement, changes: readonly FindingChange[]): Forgiven {
    const parts = matchedParts(before.build, after.build);
    const loosenings = [
      ...relaxations(before, after, changes),
      ...limitLoosenings(parts, before, after),
      ...figureLoosenings(parts, before, after),
      ...measurementLoosenings(before, after),
      ...flightLoosenings(before, after),
    ];
    const isGraveGone = changes.some(
      ({ status, finding }) => (isGone({ status }) || status === 'eased') && atLeast(finding.severity, 'information'),
    );
    const restated = isGraveGone ? restatements(parts, before, after) : [];
    return this.#tried(after, loosenings, [...exchanges(parts, after), ...restated]);
  }

  /** A build that comes may rest on parts that were there. */
  #forgivenAnew(after: Judgement): Forgiven {
    const was = judgedLinesOf(this.#before, this.sourcesBefore);
    const parts = declaredBefore(after.build, (part) => this.#before.parts.get(this.#pairing.toOld(partId(part))));
    const known = [...this.#before.builds.values()].flatMap(({ build }) => build.rules.severities);
    const loosenings = [
      ...loweredAnew(known, after),
      ...limitLoosenings(parts, was, after),
      ...figureLoosenings(parts, was, after),
    ];
    return this.#tried(after, loosenings, []);
  }

  #tried({ build, findings }: Judgement, loosenings: readonly Loosening[], exchanged: readonly Loosening[]): Forgiven {
    return forgivenBy(build, findings, loosenings, exchanged, (one) => this.#check({ build: one }, false).findings);
  }

  #check(side: Pick<SideBuild, 'build'> | undefined, isForReaders = true): Checked {
    if (!side) return { builds: [], findings: [], assessments: [] };
    const { builds, findings, defects } = checkDocument({ problems: [], builds: [side.build] }, isForReaders);
    const assessments = builds.flatMap((build) => build.assessments);
    this.defects.push(...defects);
    this.assessments += assessments.length;
    return { builds, findings, assessments };
  }

  #options(before: readonly Assessment[], after: readonly Assessment[]): OptionReview[] {
    const old = new Map(before.map((assessment) => [assessment.option.name, assessment]));
    const now = new Map(after.map((assessment) => [assessment.option.name, assessment]));
    const kept = after.map((assessment): OptionReview => {
      const pack = assessment.option.name;
      const previous = old.get(pack);
      const dutyLimit = assessment.option.dutyLimit.value;
      const nearest = nearestLimit(previous, assessment);
      const ofPack = { pack, ...(nearest && { nearest }) };
      if (!previous)
        return { ...ofPack, status: 'added', dutyLimit, results: alone(assessment, 'after'), widened: [], flights: [] };
      return {
        ...ofPack,
        status: 'changed',
        dutyLimit: Math.min(dutyLimit, previous.option.dutyLimit.value),
        results: resultChanges(previous, assessment, (id) => this.#pairing.toNew(id)),
        widened: widenedAmong(HEADLINES.review, previous, assessment),
        flights: flightsOtherThan(previous, assessment),
      };
    });
    const gone = before.filter(({ option }) => !now.has(option.name));
    return [
      ...kept,
      ...gone.map(
        (assessment): OptionReview => ({
          pack: assessment.option.name,
          status: 'removed',
          dutyLimit: assessment.option.dutyLimit.value,
          results: alone(assessment, 'before'),
          widened: [],
          flights: [],
        }),
      ),
    ];
  }

  shortlists = (): Change[] => this.#changes.ofShortlists((uri) => this.#request.isAsked(this.#pathOf(uri)));

  /** Findings about the text of the files that the change reaches: those that are requested, and what builds in them rest on. */
  text(): FindingChange[] {
    const restedOn = new Set(
      [this.#before, this.#after].flatMap(({ builds }) =>
        [...builds.values()].filter(this.#isAsked).flatMap(({ restsOn }) => restsOn.map(({ place }) => place.uri)),
      ),
    );
    const found = (side: Side, subjects: Subjects): FindingAbout[] =>
      [...side.models.values()]
        .filter(({ uri }) => restedOn.has(uri) || this.#request.isAsked(this.#pathOf(uri)))
        .flatMap(({ uri, problems }) => {
          const ofFile = () =>
            checkDocument({ problems, builds: [] }).findings.map((finding) => ({
              finding,
              subject: subjects.ofText(finding),
            }));
          return guarded(this.defects, uri, ofFile) ?? [];
        });
    return findingChanges(found(this.#before, this.#subjectsBefore), found(this.#after, this.#subjectsAfter));
  }

  readonly #differs = (uri: string): boolean => this.#request.differs(this.#pathOf(uri));

  /** Where only parts are requested, the builds that rest on them. */
  readonly #isAsked = ({ build, restsOn }: SideBuild): boolean => {
    const isAskedAt = (uri: string) => this.#request.isAsked(this.#pathOf(uri));
    return isAskedAt(build.uri) || (this.#request.isOfParts && restsOn.some(({ place }) => isAskedAt(place.uri)));
  };
}

function worseningOf(old: Checked, now: Checked): Worsening {
  const [excessesBefore, excessesAfter] = [new Excesses(old.builds), new Excesses(now.builds)];
  return (one, other, pack) => {
    const before = excessesBefore.on(pack, one);
    const finding = excessesAfter.on(pack, other);
    return isMuchWorse(excessesBefore.of(pack, before), excessesAfter.of(pack, finding))
      ? { before, finding }
      : undefined;
  };
}

const foundIn = ({ builds, findings }: Checked, subjects: Subjects): FindingAbout[] =>
  builds.flatMap(({ build }) => findings.map((finding) => ({ finding, subject: subjects.ofBuild(finding, build) })));
