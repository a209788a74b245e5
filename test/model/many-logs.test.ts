/** Logs of a workspace are each read once, however many there are. */
import { AstUtils } from 'langium';
import { expect, test } from 'vitest';
import { isLog } from '../../packages/language/src/grammar/generated/ast.ts';
import { readLogLine } from '../../packages/language/src/model/log/log-line.ts';
import { forget } from '../../packages/language/src/syntax/memory.ts';
import { uriOf, Workspace } from '../references/memory-workspace.ts';

test('a log that a file rests on is not dropped for another one, and stays the same object', async () => {
  const names = Array.from({ length: 40 }, (_, i) => `${i}.csv`);
  const lines = names.map((name) => `  observed "${name}" { log time in s, voltage in V from "${name}" }\n`).join('');
  const workspace = await Workspace.of({
    ...Object.fromEntries(names.map((name, i) => [name, `0, 16\n1, 16\n2, 15\n3, ${10 + i / 10}\n`])),
    'a.fettle': `build Tower {\n${lines}}\n`,
  });
  const document = workspace.services.shared.workspace.LangiumDocuments.getDocument(uriOf('a.fettle'));
  if (!document) throw new Error('a.fettle is not loaded');
  const recordings = () =>
    [...AstUtils.streamAllContents(document.parseResult.value)].filter(isLog).map((log) => {
      const { file } = readLogLine(log);
      return file && 'recording' in file ? file.recording : undefined;
    });
  const before = recordings();
  expect(before.filter((one) => one !== undefined)).toHaveLength(40);
  forget(document);
  for (const [i, recording] of recordings().entries()) expect(recording).toBe(before[i]);
});
