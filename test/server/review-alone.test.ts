/** A review as it ships: the server of the bundle compares with a commit in a thread of its own. */
import { expect, test } from 'vitest';
import { reviewRequest } from '../../packages/language/src/editor/requests/protocol.ts';
import { begin, commit } from '../protocol/committed-folder.ts';
import { sessions } from '../protocol/one-session.ts';
import { PACKS, WORKSHOP } from '../protocol/workshop.ts';

const start = sessions({ alone: true });

test('a review reports what fettle review reports, build by build', async () => {
  const session = await start({ files: WORKSHOP });
  begin(session);
  session.writeFile('parts/packs.fettle', PACKS.replace('78.1 g', '85.0 g'));
  const { base, markdown, builds } = await session.connection.sendRequest(reviewRequest, {});
  expect(base.name).toBe('HEAD');
  expect(base.commit).toMatch(/^[0-9a-f]{40}$/);
  expect(markdown).toContain('`mass` of `pack Slim900_3S`');
  expect(builds).toEqual([
    {
      uri: session.uri('builds/rafter.fettle'),
      build: 'Rafter',
      line: expect.stringMatching(/^all-up weight 213\.\d → 219\.\d g, hover duty /),
    },
  ]);
  // Nothing changed since: the same again.
  expect(await session.connection.sendRequest(reviewRequest, { uri: session.uri('builds/rafter.fettle') })).toEqual({
    base,
    markdown,
    builds,
  });
  commit(session);
  const after = await session.connection.sendRequest(reviewRequest, {});
  expect(after.builds).toEqual([]);
  const earlier = await session.connection.sendRequest(reviewRequest, { base: 'HEAD~1' });
  expect(earlier.builds).toEqual(builds);
});
