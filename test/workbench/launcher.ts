#!/usr/bin/env node
// Replaces the executable of a desktop VS Code: takes the same arguments, runs the same suite in the server edition.
import { stat } from 'node:fs/promises';
import { join } from 'node:path';
import { answer } from './look.ts';
import { startBrowser, startServer } from './server-edition.ts';
import { QUESTION_MARK, type Question } from './suite/question.ts';

const SUITE_LIMIT_MS = 420_000;
/** The suite marks its own lines; all else in the console is the workbench's talk of accounts and galleries. */
const SUITE_LINE = '[suite] ';
const EVERYTHING = process.env.WORKBENCH_LOG === 'all';

const named = (name: string) =>
  process.argv.find((argument) => argument.startsWith(`--${name}=`))?.slice(name.length + 3);
const extension = named('extensionDevelopmentPath');
const suite = named('extensionTestsPath');
const inBrowserHost = named('extensionDevelopmentKind') === 'web';
const folder = process.argv.slice(2).find((argument) => !argument.startsWith('-'));
if (!extension || !suite || !folder) {
  console.error(
    'usage: launcher.ts FOLDER --extensionDevelopmentPath=PATH --extensionTestsPath=PATH [--extensionDevelopmentKind=web]',
  );
  process.exit(2);
}

process.exitCode = await runSuite(extension, suite, folder);

async function runSuite(extension: string, suite: string, folder: string): Promise<number> {
  await using server = await startServer();
  const payload: [string, string][] = [
    ['extensionDevelopmentPath', server.remote(extension)],
    // The host in a browser fetches one file; it cannot look into a folder.
    ['extensionTestsPath', server.remote((await stat(suite)).isDirectory() ? join(suite, 'index.js') : suite)],
  ];
  if (inBrowserHost) payload.push(['extensionDevelopmentKind', 'web']);

  await using browser = await startBrowser();
  const page = await browser.newPage({ viewport: { width: 1280, height: 800 } });
  const verdict = new Promise<number>((resolve, reject) => {
    setTimeout(() => reject(new Error(`no verdict within ${SUITE_LIMIT_MS / 1000} s`)), SUITE_LIMIT_MS).unref();
    page.once('crash', () => reject(new Error('the page crashed')));
    void page.exposeFunction('codeAutomationExit', (code: number) => resolve(code));
  });
  await page.exposeFunction('codeAutomationLog', async (_type: string, args: unknown[]) => {
    const line = lineOf(args);
    const mark = line.indexOf(QUESTION_MARK);
    if (mark < 0) print(line);
    else await answer(JSON.parse(line.slice(mark + QUESTION_MARK.length)) as Question, page, folder);
  });
  await page.goto(server.address(folder, payload));
  return await verdict;
}

function lineOf(args: unknown[]): string {
  return args.map((argument) => (typeof argument === 'string' ? argument : JSON.stringify(argument))).join(' ');
}

function print(line: string): void {
  const mark = line.indexOf(SUITE_LINE);
  if (mark >= 0) console.log(line.slice(mark + SUITE_LINE.length));
  else if (EVERYTHING) console.log(line);
}
