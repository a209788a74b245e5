/** The VS Code client imports nothing of the server and states its messages again: what passes between the two must mean the same. */
import { expect, expectTypeOf, test } from 'vitest';
import type { RequestType } from 'vscode-languageserver-protocol';
import * as client from '../../packages/extension/src/protocol.ts';
import * as server from '../../packages/language/src/editor/requests/protocol.ts';

type Asked<R> = R extends RequestType<infer Params, infer _Answer, infer _Error> ? Params : never;
type Answered<R> = R extends RequestType<infer _Params, infer Answer, infer _Error> ? Answer : never;

test('the client understands every answer, and the server every question', () => {
  expectTypeOf<Answered<typeof server.buildsRequest>>().toExtend<Answered<typeof client.buildsRequest>>();
  expectTypeOf<Answered<typeof server.requirementsRequest>>().toExtend<Answered<typeof client.requirementsRequest>>();
  expectTypeOf<Answered<typeof server.sheetRequest>>().toExtend<Answered<typeof client.sheetRequest>>();
  expectTypeOf<Answered<typeof server.newBuildRequest>>().toExtend<Answered<typeof client.newBuildRequest>>();
  expectTypeOf<Answered<typeof server.reviewRequest>>().toExtend<Answered<typeof client.reviewRequest>>();

  expectTypeOf<Asked<typeof client.requirementsRequest>>().toExtend<Asked<typeof server.requirementsRequest>>();
  expectTypeOf<Asked<typeof client.sheetRequest>>().toExtend<Asked<typeof server.sheetRequest>>();
  expectTypeOf<Asked<typeof client.newBuildRequest>>().toExtend<Asked<typeof server.newBuildRequest>>();
  expectTypeOf<Asked<typeof client.reviewRequest>>().toExtend<Asked<typeof server.reviewRequest>>();
});

test('both call each message by the same name', () => {
  const methods = (of: object) =>
    Object.entries(of).flatMap(([name, { method }]: [string, { method?: string }]) => (method ? [[name, method]] : []));
  expect(methods(server)).toEqual(expect.arrayContaining(methods(client)));
  expect(methods(client).length).toBe(methods(server).length);
});
