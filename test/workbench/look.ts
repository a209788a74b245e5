// The suite runs where extensions run and sees no page. What it requests, the launcher looks up in the browser and writes into a file.
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Frame, Page } from 'playwright-core';
import { ANSWERS, type Question } from './suite/question.ts';

/** @param folder the workspace, which the suite reads the answer from */
export async function answer(question: Question, page: Page, folder: string): Promise<void> {
  mkdirSync(join(folder, ANSWERS), { recursive: true });
  let text: string;
  try {
    text = JSON.stringify(await look(question, page));
  } catch (error) {
    text = JSON.stringify({ problem: String(error) });
  }
  writeFileSync(join(folder, ANSWERS, `${question.id}.json`), text);
}

async function look({ sheet, selector, act, text = '' }: Question, page: Page): Promise<{ texts: string[] }> {
  const frame = sheet === undefined ? page.mainFrame() : await sheetOf(sheet, page);
  const found = frame?.locator(selector);
  if (found === undefined) return { texts: [] };
  if (act === 'click') await found.first().click({ timeout: 5000 });
  if (act === 'enter') await found.first().press('Enter', { timeout: 5000 });
  if (act === 'answer') {
    await found.first().fill(text, { timeout: 5000 });
    await found.first().press('Enter', { timeout: 5000 });
  }
  return { texts: await found.allInnerTexts() };
}

/** The view that shows the sheet of a build, or one that shows none yet. */
async function sheetOf(build: string, page: Page): Promise<Frame | undefined> {
  let empty: Frame | undefined;
  for (const frame of page.frames()) {
    if ((await frame.locator('#sheet').count()) === 0) continue;
    const name = frame.locator('#sheet header code').first();
    if ((await name.count()) === 0) empty = frame;
    else if ((await name.textContent()) === build) return frame;
  }
  return empty;
}
