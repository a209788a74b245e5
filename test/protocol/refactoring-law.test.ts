/**
 * After any refactoring every result and finding of every build is what it was, names of places aside: over the examples and over craft that
 * flew for a year, at random places, several one after the other. `FETTLE_REFACTORINGS=1000` tries that many, `FETTLE_SEED=7` others.
 */

import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { type CodeAction, type Range, TextDocumentEdit } from 'vscode-languageserver-protocol';
import { TextDocument } from 'vscode-languageserver-textdocument';
import { expanded } from '../../packages/language/src/analysis/uncertainty/estimate.ts';
import { checkDocument } from '../../packages/language/src/checks/run.ts';
import { readDocument } from '../../packages/language/src/checks/text/read-document.ts';
import type { PartNode } from '../../packages/language/src/grammar/generated/ast.ts';
import { format } from '../../packages/language/src/grammar/layout.ts';
import { readBench } from '../../packages/language/src/model/bench-rows.ts';
import { legsOf } from '../../packages/language/src/model/leg-lines.ts';
import { readShortlist } from '../../packages/language/src/model/shortlists.ts';
import { cases } from '../long.ts';
import { uriOf, Workspace } from '../references/memory-workspace.ts';
import { pick, type Random, randomNumbers } from '../seeded.ts';
import { examplesIn, fewer, lightly } from './example-files.ts';
import { MemoryServer } from './memory-server.ts';

const SEED = Number(process.env.FETTLE_SEED ?? 20261129);
const SEQUENCES = Number(process.env.FETTLE_REFACTORINGS ?? cases(5, 16));
const STEPS = 3;

const CAPABILITIES = {
  workspace: { workspaceEdit: { documentChanges: true, resourceOperations: ['create' as const] } },
  textDocument: {
    codeAction: {
      dataSupport: true,
      resolveSupport: { properties: ['edit'] },
      codeActionLiteralSupport: { codeActionKind: { valueSet: [] } },
    },
  },
};

const EXAMPLES = [...fewer(examplesIn('builds', 'parts', 'rules', 'stands'))].map(([path, text]): [string, string] => [
  path,
  lightly(text),
]);
const fixtures = join(import.meta.dirname, '../fixtures/healthy');
const HEALTHY = readdirSync(fixtures)
  .filter((file) => file.endsWith('.fettle'))
  .map((file): [string, string] => [file, readFileSync(join(fixtures, file), 'utf8')]);

/** What is decided in addition to the builds: routes, stands, choices, each with an heir and with lines in common. */
const DECISIONS = `use "../parts"

flight Loft "up and across" {
  leg: 12 s climb at 3 m/s
  leg: 150 m at 9 m/s against 5 m/s   // the long bay
  leg: home at 9 m/s
}

flight LoftAgain "the same in calm air" {
  leg: 12 s climb at 3 m/s
  leg: 150 m at 9 m/s against 5 m/s
  leg: home at 9 m/s
}

// Flown when it blows.
flight LoftWindy like Loft {
  note "turn back early" for preflight
}

bench StandBare {
  motor: M1606_3150
  propeller: P3024x3
  air: 18 degC
  rows duty in %, voltage in V, current in A, thrust in gf {
    50, 15.2, 3.1, 130
    100, 14.6, 11.8, 356
  }
}

bench StandAgain like StandBare {
  air: 24 degC
  rows duty in %, voltage in V, current in A, thrust in gf {
    60, 15.1, 4.2, 170
  }
}

shortlist Turns "which winding" {
  for: Spire
  vary: pack in "../parts"
  vary: duty 70 % .. 100 % step 10 %
  require thrust_to_weight >= 3
  prefer: hover_time
  prefer: thrust_to_weight
}

shortlist Turns_Light like Turns {
  require all_up_weight <= 320 g
  prefer: all_up_weight
}
`;

type Texts = ReadonlyMap<string, string>;

const OWN = 'builds/decisions.fettle';

/** One of the craft, as one file or with its parts in a file of their own; with either sort of line break. */
function workspaceOf(random: Random): Texts {
  const newline = random() < 0.25 ? '\r\n' : '\n';
  const inNewlines = (text: string): string => text.replace(/\r?\n/g, newline);
  if (random() < 0.4)
    return new Map(
      [...EXAMPLES, [OWN, DECISIONS] as const].map(([file, text]) => [
        file,
        file.endsWith('.csv') ? text : inNewlines(text),
      ]),
    );
  const [file, text] = pick(random, HEALTHY);
  const build = /^build /m.exec(text);
  if (!build || random() < 0.5) return new Map([[file, inNewlines(text)]]);
  const comment = /(?:^\/\/.*\n)*$/m.exec(text.slice(0, build.index))?.index ?? build.index;
  return new Map([
    ['parts/own.fettle', inNewlines(text.slice(0, comment))],
    ['builds/own.fettle', inNewlines(`use "../parts"\n\n${text.slice(comment)}`)],
  ]);
}

// ---- what is computed

/** By build what is computed and found of it, names of parts aside; what is reported of the texts. */
async function judged(texts: Texts): Promise<Map<string, string[]>> {
  const workspace = await Workspace.of(Object.fromEntries(texts));
  const found = new Map<string, string[]>();
  const names = [...texts].flatMap(([path]) =>
    path.endsWith('.fettle')
      ? workspace.document(path).parseResult.value.parts.flatMap(({ name, title }) => [name ?? '', title ?? ''])
      : [],
  );
  const longestFirst = [...new Set(names)].filter(Boolean).sort((one, other) => other.length - one.length);
  const nameless = (text: string): string =>
    longestFirst.reduce((rest, name) => rest.replaceAll(name, '…'), text).replace(/“[^”]*”/g, '…');
  const reported: string[] = [];
  for (const path of texts.keys()) {
    if (!path.endsWith('.fettle')) continue;
    const document = workspace.document(path);
    const { parserErrors, lexerErrors } = document.parseResult;
    for (const part of document.parseResult.value.parts) {
      const decided = decisionOf(part);
      if (decided !== undefined) found.set(`${part.kind} ${part.name}`, nameless(JSON.stringify(decided)).split(','));
    }
    expect(
      [...parserErrors, ...lexerErrors].map(({ message }) => message),
      path,
    ).toEqual([]);
    const { builds, findings } = checkDocument(readDocument(document));
    for (const { build, assessments } of builds)
      found.set(
        build.name,
        assessments
          .flatMap(({ option, results, missing }) => [
            ...[...results.values()].map(({ name, unit, estimate }) =>
              [option.name, name, unit, estimate.value.toPrecision(9), expanded(estimate).toPrecision(7)].join(' '),
            ),
            ...[...missing.values()].map(({ name, reason }) => nameless(`${option.name} ${name} ${reason}`)),
          ])
          .sort(),
      );
    for (const { id, severity, message, pack = '', numbers, build = '' } of findings) {
      const values = numbers.map(
        ({ name, value, plusMinus = 0 }) => `${name} ${value.toPrecision(8)} ${plusMinus.toPrecision(6)}`,
      );
      const words = `${id} ${severity} ${pack} ${values.join()} ${nameless(message)}`;
      if (build === '') reported.push(words);
      else found.set(build, [...(found.get(build) ?? []), words].sort());
    }
  }
  return found.set('', reported.sort());
}

/** A route, a stand or a choice as plain values. */
function decisionOf(part: PartNode): unknown {
  const withoutNodes = (key: string, value: unknown): unknown =>
    key === 'node' || key === 'place' ? undefined : value;
  switch (part.kind) {
    case 'flight':
      return legsOf(part).map(({ leg }) => leg && { ...leg, place: '', release: leg.release?.part.name ?? '' });
    case 'bench': {
      const { columns, rows, part: stand } = readBench(part);
      const named = (['motor', 'propeller', 'esc'] as const).map((word) => stand.part(word)?.name);
      return [named, stand.figure('air')?.value, columns.map(({ name, unit }) => [name, unit]), rows];
    }
    case 'shortlist': {
      const { build, vary, requirements, prefer } = readShortlist(part);
      const tried = vary.map(({ varied }) => JSON.stringify(varied, withoutNodes)).sort();
      return [build?.name, tried, requirements.map(({ text }) => text).sort(), prefer.map(({ name }) => name)];
    }
    default:
      return undefined;
  }
}

// ---- what a client does

const withFile = (texts: Texts, uri: string): string => {
  const path = [...texts.keys()].find((one) => uriOf(one).toString() === uri);
  if (path === undefined) throw new Error(`an edit of no file: ${uri}`);
  return path;
};

function applied(texts: Texts, action: CodeAction): Map<string, string> {
  const after = new Map(texts);
  for (const change of action.edit?.documentChanges ?? []) {
    if (TextDocumentEdit.is(change)) {
      const path = withFile(after, change.textDocument.uri);
      const document = TextDocument.create('', '', 0, after.get(path) ?? '');
      after.set(path, TextDocument.applyEdits(document, change.edits as { range: Range; newText: string }[]));
    } else if (change.kind === 'create') after.set(change.uri.slice(uriOf('').toString().length), '');
  }
  return after;
}

/** A place, or some lines of one. */
function somewhere(text: string, random: Random): Range {
  const lines = text.split(/\r?\n/);
  const all = lines.flatMap((line, index) => (/^[a-z]+ \w+.*\{/.test(line) ? [index] : []));
  const decisions = all.filter((index) => /^(?:flight|bench|shortlist) /.test(lines[index] ?? ''));
  const headers = decisions.length > 0 ? decisions : all;
  const line = random() < 0.5 ? pick(random, headers) : Math.floor(random() * lines.length);
  const start = { line, character: Math.min(8, lines[line]?.length ?? 0) };
  if (random() < 0.5) return { start, end: start };
  const last = Math.min(lines.length - 1, line + 1 + Math.floor(random() * 4));
  return {
    start: { line: line + 1 < lines.length ? line + 1 : line, character: 0 },
    end: { line: Math.max(last, line + 1), character: 1 },
  };
}

const isOfThese = ({ kind, title }: CodeAction): boolean =>
  ['refactor.extract', 'refactor.inline', 'refactor.move'].includes(kind ?? '') || title.startsWith('Sort');

describe('a refactoring leaves every build what it is', () => {
  const taken = new Map<string, number>();
  const decided = new Set<string>();

  test.each(Array.from({ length: SEQUENCES }, (_, index) => SEED + index))('with seed %d', async (seed) => {
    const random = randomNumbers(seed);
    const before = workspaceOf(random);
    const expected = await judged(before);
    const server = await MemoryServer.start(before, new Map(), CAPABILITIES);
    let texts: Texts = before;
    const done: string[] = [];
    for (let tries = 0; done.length < STEPS && tries < 14; tries++) {
      const path = pick(
        random,
        [...texts.keys()].filter(
          (one) => one.endsWith('.fettle') && (random() < 0.3 || !texts.has(OWN) || one === OWN),
        ),
      );
      const uri = uriOf(path).toString();
      const range = somewhere(texts.get(path) ?? '', random);
      const offered = await server.ask<CodeAction[]>('textDocument/codeAction', {
        textDocument: { uri },
        range,
        context: { diagnostics: [], only: ['refactor'] },
      });
      const action = pick(random, offered.filter(isOfThese));
      if (action === undefined) continue;
      const resolved = await server.ask<CodeAction>('codeAction/resolve', action).catch((error: Error) => error);
      if (resolved instanceof Error) {
        // Moves are judged when they are taken.
        expect(action.kind, resolved.message).toBe('refactor.move');
        continue;
      }
      const after = applied(texts, resolved);
      done.push(action.title);
      for (const [file, text] of after) {
        const was = texts.get(file);
        if (was === text) continue;
        if (was === undefined || format(was) === was) expect(format(text), done.join()).toBe(text);
        if (was?.includes('\r\n')) expect(text.replaceAll('\r\n', ''), done.join()).not.toContain('\n');
        if (was !== undefined) await server.writeFile(file, text);
      }
      for (const [file, text] of after) if (!texts.has(file)) await server.writeFile(file, text);
      await server.settled();
      texts = after;
      for (const name of action.title.match(/\b(?:Loft|Stand|Turns)\w*/g) ?? []) decided.add(name);
      taken.set(action.kind ?? '', (taken.get(action.kind ?? '') ?? 0) + 1);
    }
    server.stop();
    const now = await judged(texts);
    // A route or a choice that was inlined into another one is gone with its name.
    const isGone = (name: string): boolean =>
      done.some((title) => title.startsWith(`Inline ${name.split(' ')[1]} into `) && title.endsWith('and remove it'));
    for (const [build, lines] of expected)
      if (!isGone(build)) expect(now.get(build), `${build} after ${done.join(', then ')}`).toEqual(lines);
    expect(commentsOf(texts), done.join()).toEqual(expect.arrayContaining([...new Set(commentsOf(before))]));
  });

  test('each sort was taken', () => {
    for (const kind of ['refactor.extract', 'refactor.inline', 'refactor.move'])
      expect(taken.get(kind) ?? 0, kind).toBeGreaterThan(0);
    expect(decided.size, 'routes, stands and choices').toBeGreaterThan(0);
  });
});

const commentsOf = (texts: Texts): string[] =>
  [...texts.values()].flatMap((text) => text.match(/\/\/[^\r\n]*/g) ?? []).sort();
