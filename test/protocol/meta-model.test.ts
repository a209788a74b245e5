import { describe, expect, test } from 'vitest';
import { answerTo, BUILD, CAPABILITIES, FURTHER, REQUESTS, RESOLVED, UNLIMITED } from './every-request.ts';
import { MetaModel } from './meta-model.ts';
import { sharedSession } from './one-session.ts';
import { RAFTER, WORKSHOP } from './workshop.ts';

const model = MetaModel.load();
describe('every message is as the meta-model of the protocol wants it', () => {
  const theSession = sharedSession({ files: WORKSHOP });

  test('initialize', () => {
    expect(model.problemsOfResult('initialize', theSession().initializeResult)).toEqual([]);
  });

  test('every capability has its requests here', () => {
    const { capabilities } = theSession().initializeResult;
    const offered = Object.entries(capabilities).filter(([name, value]) => name.endsWith('Provider') && value);
    expect(offered.length).toBeGreaterThan(15);
    const requested = new Set([...REQUESTS, ...RESOLVED].map(({ method }) => method).concat(FURTHER));
    const unasked = offered.flatMap(([name]) =>
      (CAPABILITIES[name]?.requests ?? [name]).filter((method) => !requested.has(method)),
    );
    expect(unasked, 'add it to CAPABILITIES and REQUESTS of every-request.ts').toEqual([]);
  });

  test('every request here is offered by a capability', () => {
    const { capabilities } = theSession().initializeResult;
    const offered = new Map(Object.entries(capabilities));
    const promised = new Set(
      Object.entries(CAPABILITIES).flatMap(([name, { requests }]) => (offered.get(name) ? requests : [])),
    );
    if (capabilities.workspace?.fileOperations?.willRename) promised.add('workspace/willRenameFiles');
    // Offered to clients that pull diagnostics, which this one does not.
    for (const pull of CAPABILITIES.diagnosticProvider?.requests ?? []) promised.add(pull);
    const requested = [...REQUESTS, ...RESOLVED].map(({ method }) => method).concat(FURTHER);
    expect(requested.filter((method) => !promised.has(method))).toEqual([]);
  });

  test('pushed findings', async () => {
    const session = theSession();
    await session.open(BUILD, UNLIMITED);
    const pushed = session.published.at(-1);
    expect(pushed?.diagnostics.some(({ relatedInformation }) => relatedInformation !== undefined)).toBe(true);
    expect(model.problemsOfNotification('textDocument/publishDiagnostics', pushed)).toEqual([]);
  });

  test.each(REQUESTS)('$method', async ({ isEmpty, ...request }) => {
    const session = theSession();
    await session.open(BUILD, UNLIMITED);
    const result = await answerTo(session, request);
    const isNothing = result === null || (Array.isArray(result) && result.length === 0);
    expect(isNothing).toBe(isEmpty ?? false);
    expect(model.problemsOfResult(request.method, result)).toEqual([]);
  });

  test.each(RESOLVED)('$method', async ({ list, method, ...where }) => {
    const session = theSession();
    await session.open(BUILD, UNLIMITED);
    const listed = await session.connection.sendRequest<{ items?: object[] } & object[]>(list, {
      textDocument: { uri: session.uri(BUILD) },
      ...('at' in where && { position: session.inside(BUILD, where.at) }),
      ...('params' in where && where.params),
    });
    const [first] = listed.items ?? listed;
    const resolved = await session.connection.sendRequest<object>(method, first);
    expect(resolved).toMatchObject({ ...first });
    expect(model.problemsOfResult(method, resolved)).toEqual([]);
  });

  test('a command', async () => {
    const session = theSession();
    await session.open(BUILD, RAFTER);
    const result = await session.connection.sendRequest('workspace/executeCommand', {
      command: 'fettle.explain',
      arguments: [{ uri: session.uri(BUILD), build: 'Rafter', result: 'all_up_weight' }],
    });
    expect(String(result)).toContain('# all-up weight');
    expect(model.problemsOfResult('workspace/executeCommand', result)).toEqual([]);
  });

  test('call hierarchy and moves', async () => {
    const session = theSession();
    await session.open(BUILD, UNLIMITED);
    const at = session.at(BUILD, session.inside(BUILD, 'M1506_3900'));
    const [item] = await session.connection.sendRequest<object[]>('textDocument/prepareCallHierarchy', at);
    const files = [{ oldUri: session.uri('parts'), newUri: session.uri('shelf') }];
    for (const [method, params] of [
      ['callHierarchy/incomingCalls', { item }],
      ['callHierarchy/outgoingCalls', { item }],
      ['workspace/willRenameFiles', { files }],
    ] as const) {
      const result = await session.connection.sendRequest<unknown>(method, params);
      expect(result).not.toBeNull();
      expect(model.problemsOfResult(method, result)).toEqual([]);
    }
  });
});
