/** A page that follows a text: what arrives late is dropped, what is no longer wanted is cancelled, and a search can be stopped. */
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { type Running, SheetFollower, type Shown } from '../../packages/extension/src/sheet/follower.ts';
import type { BusyMessage, ShortlistSubject, ShowMessage } from '../../packages/extension/src/sheet/view-messages.ts';
import type { SheetTarget } from '../../packages/language/src/editor/requests/protocol.ts';

interface Asked {
  readonly running: Running;
  readonly subject: ShortlistSubject;
  readonly answer: (shown: Shown) => Promise<void>;
  readonly fail: (error: Error) => Promise<void>;
}

beforeEach(() => {
  vi.useFakeTimers();
});
afterEach(() => {
  vi.useRealTimers();
});

const OVERTAKEN = new Error('overtaken');
const page = (html: string, targets: readonly SheetTarget[] = []): Shown => ({
  page: { title: 'Which', isComplete: true, sections: [{ id: 'candidates', html, targets }] },
  names: ['Which'],
});

function followed(outlivesChanges = false) {
  const requests: Asked[] = [];
  const messages: (ShowMessage | BusyMessage)[] = [];
  const ways: SheetTarget[] = [];
  const follower = new SheetFollower<ShortlistSubject>(
    { uri: 'file:///a.fettle', shortlist: 'Which' },
    {
      kind: 'shortlist',
      isQuickFirst: false,
      outlivesChanges,
      nameOf: ({ shortlist }) => shortlist,
      renamed: (subject, shortlist) => ({ ...subject, shortlist }),
      request: (subject, _quick, running) =>
        new Promise((resolve, reject) => {
          const settled = () => vi.advanceTimersByTimeAsync(0).then(() => undefined);
          requests.push({
            running,
            subject,
            answer: (shown) => {
              resolve(shown);
              return settled();
            },
            fail: (error) => {
              reject(error);
              return settled();
            },
          });
        }),
      isOvertaken: (error) => error === OVERTAKEN,
      isVisible: () => true,
      show: (message) => messages.push(message),
      showTitle: () => undefined,
      go: (target) => void ways.push(target),
    },
  );
  const shown = () =>
    messages
      .flatMap((message) => (message.type === 'show' ? [message.sections.map(({ html }) => html).join()] : []))
      .at(-1);
  const busy = () => messages.flatMap((message) => (message.type === 'busy' ? [message.words] : [])).at(-1);
  const rest = () => vi.advanceTimersByTimeAsync(1000).then(() => undefined);
  return { follower, requests, messages, ways, shown, busy, rest };
}

const at = (requests: readonly Asked[], index: number): Asked => {
  const found = requests.at(index);
  if (!found) throw new Error('nothing was requested');
  return found;
};

describe('a followed page', () => {
  it('shows the newest answer, in whatever order answers arrive', async () => {
    const { follower, requests, shown, rest } = followed();
    follower.receive({ type: 'ready' });
    await rest();
    follower.changed();
    await rest();
    expect(requests).toHaveLength(2);
    expect(at(requests, 0).running.signal.aborted).toBe(true);
    await at(requests, 1).answer(page('new'));
    await at(requests, 0).answer(page('old'));
    expect(shown()).toBe('new');
  });

  it('shows how far a search is and its best so far, until the answer is there', async () => {
    const { follower, requests, messages, shown, busy, rest } = followed();
    follower.receive({ type: 'ready' });
    await rest();
    const { running, answer } = at(requests, 0);
    running.report('64 of 128');
    running.partly([{ id: 'candidates', html: 'so far', targets: [] }]);
    expect([busy(), shown()]).toEqual(['64 of 128', 'so far']);
    await answer(page('whole'));
    expect([busy(), shown()]).toEqual([undefined, 'whole']);
    // Of what is shown already parts would be less; of what is no longer wanted nothing is shown.
    follower.changed();
    await rest();
    at(requests, 1).running.partly([{ id: 'candidates', html: 'so far', targets: [] }]);
    expect(shown()).toBe('whole');
    const count = messages.length;
    running.report('late');
    expect(messages).toHaveLength(count);
  });

  it('stops a search when somebody wants that, and begins it again', async () => {
    const { follower, requests, messages, shown, busy, rest } = followed();
    follower.receive({ type: 'ready' });
    await rest();
    at(requests, 0).running.report('64 of 128');
    follower.receive({ type: 'stop' });
    expect(at(requests, 0).running.signal.aborted).toBe(true);
    await at(requests, 0).answer(page('late'));
    await rest();
    expect(requests).toHaveLength(1);
    expect(shown()).toBeUndefined();
    expect(messages.at(-1)).toMatchObject({ type: 'busy', isStopped: true });
    follower.receive({ type: 'again' });
    await rest();
    await at(requests, 1).answer(page('whole'));
    expect([busy(), shown()]).toEqual([undefined, 'whole']);
  });

  it('lets a search go on that the server ends where it has to, and requests once more behind it', async () => {
    const { follower, requests, shown, rest } = followed(true);
    follower.receive({ type: 'ready' });
    await rest();
    follower.changed();
    follower.changed();
    await rest();
    expect(requests).toHaveLength(1);
    expect(at(requests, 0).running.signal.aborted).toBe(false);
    await at(requests, 0).answer(page('whole'));
    expect(shown()).toBe('whole');
    await rest();
    expect(requests).toHaveLength(2);
    follower.changed();
    await at(requests, 1).fail(OVERTAKEN);
    await rest();
    expect(requests).toHaveLength(3);
    await at(requests, 2).answer(page('new'));
    await rest();
    expect([requests.length, shown()]).toEqual([3, 'new']);
  });

  it('keeps the figures and states why, where there is no answer; asks again where something was typed meanwhile', async () => {
    const { follower, requests, messages, shown, rest } = followed();
    follower.receive({ type: 'ready' });
    await rest();
    await at(requests, 0).answer(page('whole'));
    follower.changed();
    await rest();
    await at(requests, 1).fail(new Error('Which varies nothing yet'));
    expect(shown()).toBe('whole');
    expect(messages.at(-1)).toMatchObject({ note: expect.stringMatching(/Which varies nothing yet.*last complete/) });
    follower.changed();
    await rest();
    await at(requests, 2).fail(OVERTAKEN);
    await rest();
    expect(requests).toHaveLength(4);
  });

  it('goes with one that alone got another name', async () => {
    const { follower, requests, rest } = followed();
    follower.receive({ type: 'ready' });
    await rest();
    await at(requests, 0).answer(page('whole'));
    follower.changed();
    await rest();
    await at(requests, 1).answer({ names: ['Other'] });
    await rest();
    expect(at(requests, 2).subject).toEqual({ uri: 'file:///a.fettle', shortlist: 'Other' });
  });

  it('leads where the page led on which something was chosen, also while a newer one is on its way', async () => {
    const { follower, requests, messages, ways, rest } = followed();
    const [before, after] = [3, 4].map((line) => {
      const end = { line, character: 0 };
      return { uri: 'file:///a.fettle', range: { start: end, end } };
    }) as [SheetTarget, SheetTarget];
    follower.receive({ type: 'ready' });
    await rest();
    await at(requests, 0).answer(page('whole', [before]));
    follower.changed();
    await rest();
    await at(requests, 1).answer(page('new', [after]));
    const [first, second] = messages.flatMap((message) => (message.type === 'show' ? [message.edition] : []));
    for (const edition of [first, second, undefined, -1])
      follower.receive({ type: 'go', edition, section: 'candidates', target: 0 });
    expect(ways).toEqual([before, after]);
  });

  it('sends nothing once it is closed', async () => {
    const { follower, requests, messages, rest } = followed();
    follower.receive({ type: 'ready' });
    await rest();
    at(requests, 0).running.report('64 of 128');
    const count = messages.length;
    follower.forget();
    await at(requests, 0).answer(page('late'));
    await rest();
    expect(messages).toHaveLength(count);
  });
});
