import { createDefaultCoreModule, createDefaultSharedCoreModule, DocumentState, inject, TextDocument } from 'langium';
import { describe, expect, it } from 'vitest';
import { referenceProblems } from '../../packages/language/src/checks/text/name-problems.ts';
import {
  FettleGeneratedModule,
  FettleGeneratedSharedModule,
} from '../../packages/language/src/grammar/generated/module.ts';
import { FettleGrammarModule } from '../../packages/language/src/grammar/grammar-module.ts';
import {
  FettleReferencesModule,
  FettleWorkspaceModule,
} from '../../packages/language/src/workspace/workspace-module.ts';
import { MemoryFiles, uriOf } from './memory-workspace.ts';

/** Services of an editor that has texts open. */
function servicesWith(files: MemoryFiles, open: Map<string, TextDocument>) {
  const shared = inject(
    createDefaultSharedCoreModule({ fileSystemProvider: () => files }),
    FettleGeneratedSharedModule,
    FettleWorkspaceModule,
    { workspace: { TextDocuments: () => ({ get: (uri: { toString(): string }) => open.get(uri.toString()) }) } },
  );
  const fettle = inject(
    createDefaultCoreModule({ shared }),
    FettleGeneratedModule,
    FettleGrammarModule,
    FettleReferencesModule,
  );
  shared.ServiceRegistry.register(fettle);
  return shared.workspace;
}

function largeWorkspace(): MemoryFiles {
  const files = new MemoryFiles();
  for (let number = 0; number < 300; number += 1) {
    files.texts.set(uriOf(`b/${number}.fettle`).path, `use "../p"\nbuild B${number} { load: Cam }`);
  }
  files.texts.set(uriOf('p/p.fettle').path, 'load Cam { }');
  return files;
}

describe('a file that is opened while the workspace is being loaded', () => {
  it('is finished first, with what it needs, and then the rest goes on', async () => {
    const open = new Map<string, TextDocument>();
    const files = largeWorkspace();
    const { WorkspaceManager, WorkspaceLock, DocumentBuilder, LangiumDocuments } = servicesWith(files, open);
    const finished: string[] = [];
    DocumentBuilder.onDocumentPhase(
      DocumentState.Validated,
      ({ uri }) => void finished.push(uri.path.replace('/home/', '')),
    );

    const start = WorkspaceLock.write((token) =>
      WorkspaceManager.initializeWorkspace([{ uri: uriOf('').toString(), name: 'home' }], token),
    );
    await WorkspaceManager.ready;
    const uri = uriOf('b/7.fettle');
    open.set(
      uri.toString(),
      TextDocument.create(uri.toString(), 'fettle', 1, 'use "../p"\nbuild Typed { load: Cam\n load: Cax }'),
    );
    const opened = WorkspaceLock.write((token) => DocumentBuilder.update([uri], [], token));
    await Promise.all([start, opened]);

    expect(finished[0]).toBe('b/7.fettle');
    expect(new Set(finished).size).toBe(finished.length);
    expect(finished.filter((path) => !path.startsWith('/parts/'))).toHaveLength(301);
    const document = LangiumDocuments.getDocument(uri);
    expect(document && referenceProblems(document).map(({ message }) => message)).toEqual([
      'no such load: Cax; did you mean Cam?',
    ]);
    expect(LangiumDocuments.all.every(({ state }) => state === DocumentState.Validated)).toBe(true);
  });

  it('is read from the editor, not from the disk', async () => {
    const uri = uriOf('p/p.fettle');
    const open = new Map([[uri.toString(), TextDocument.create(uri.toString(), 'fettle', 1, 'load Other { }')]]);
    const { WorkspaceManager, IndexManager } = servicesWith(largeWorkspace(), open);
    await WorkspaceManager.initializeWorkspace([{ uri: uriOf('').toString(), name: 'home' }]);
    expect([...IndexManager.partsOfFile(uri.toString())].map(({ name }) => name)).toEqual(['Other']);
  });
});
