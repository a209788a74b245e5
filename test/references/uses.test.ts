import { describe, expect, it } from 'vitest';
import {
  isAlias,
  isPropertyNode,
  isRailNode,
  type RailNode,
} from '../../packages/language/src/grammar/generated/ast.ts';
import { type DeclaringNode, type Occurrence, occurrencesOf } from '../../packages/language/src/resolve/occurrences.ts';
import { Workspace } from './memory-workspace.ts';

const FILES = {
  'p/p.fettle': `esc Board32 { rail video { output: 10 V }
 rail logic { from: video } }
esc Board50 like Board32 { rail video { output: 9 V } }
esc Apart { rail video { } }
load Cam { }`,
  'b/a.fettle': `use "../p"
build A { esc: Board50 as Top
 esc: Apart
 load: Cam from Top.video
 load: Cam as Second from Apart.video
 require rail.Top.video.voltage > 3 V }`,
  'b/b.fettle': 'build B like A { load: Cam as Third from Top.video }',
};

/** `file:text around` for each place of a name. */
async function placesOf(pick: (workspace: Workspace) => DeclaringNode | undefined) {
  const workspace = await Workspace.of(FILES);
  const target = pick(workspace);
  if (!target) throw new Error('nothing picked');
  const occurrences = occurrencesOf(target, workspace.services.shared.workspace.IndexManager);
  const show = ({ uri, node }: Occurrence) => {
    const path = uri.slice('file:///home/'.length);
    const text = workspace.document(path).textDocument.getText();
    return `${path}:${text.slice(0, node.offset).split('\n').length} ${node.text}`;
  };
  return {
    declarations: occurrences
      .filter(({ isDeclaration }) => isDeclaration)
      .map(show)
      .sort(),
    references: occurrences
      .filter(({ isDeclaration }) => !isDeclaration)
      .map(show)
      .sort(),
  };
}

const railOf = (workspace: Workspace, board: string): RailNode | undefined =>
  workspace.part('p/p.fettle', board).lines.filter(isRailNode)[0];

describe('where a name is used', () => {
  it('finds a part in like, in lines and before a dot', async () => {
    expect(await placesOf((workspace) => workspace.part('p/p.fettle', 'Apart'))).toEqual({
      declarations: ['p/p.fettle:4 Apart'],
      references: ['b/a.fettle:3 Apart', 'b/a.fettle:5 Apart'],
    });
    expect((await placesOf((workspace) => workspace.part('p/p.fettle', 'Board32'))).references).toEqual([
      'p/p.fettle:3 Board32',
    ]);
  });

  it('finds a rail with its variants, within dotted names and results, from either end', async () => {
    const expected = {
      declarations: ['p/p.fettle:1 video', 'p/p.fettle:3 video'],
      references: ['b/a.fettle:4 video', 'b/a.fettle:6 video', 'b/b.fettle:1 video', 'p/p.fettle:2 video'],
    };
    expect(await placesOf((workspace) => railOf(workspace, 'Board32'))).toEqual(expected);
    expect(await placesOf((workspace) => railOf(workspace, 'Board50'))).toEqual(expected);
    expect(await placesOf((workspace) => railOf(workspace, 'Apart'))).toEqual({
      declarations: ['p/p.fettle:4 video'],
      references: ['b/a.fettle:5 video'],
    });
  });

  it('finds a second name, also in builds that inherit it', async () => {
    const alias = (workspace: Workspace) =>
      workspace
        .part('b/a.fettle', 'A')
        .lines.filter(isPropertyNode)
        .flatMap((line) => line.clauses.filter(isAlias))[0];
    expect(await placesOf(alias)).toEqual({
      declarations: ['b/a.fettle:2 Top'],
      references: ['b/a.fettle:4 Top', 'b/a.fettle:6 Top', 'b/b.fettle:1 Top'],
    });
  });
});
