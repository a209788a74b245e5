import * as vscode from 'vscode';
import { ANSWERS, QUESTION_MARK, type Question } from './question.ts';
import { fileUri, until } from './workbench-steps.ts';

/** In a desktop VS Code nobody looks at the page for us. */
export const CAN_LOOK = vscode.env.uiKind === vscode.UIKind.Web;

let requested = 0;

/** The texts of all that a selector finds, in the sheet of a build or in the workbench. */
export async function look(question: Omit<Question, 'id'>): Promise<string[]> {
  const id = requested++;
  console.log(QUESTION_MARK + JSON.stringify({ id, ...question } satisfies Question));
  const answer = await until(`the page is looked at for ${question.selector}`, async () => {
    try {
      const bytes = await vscode.workspace.fs.readFile(fileUri(`${ANSWERS}/${id}.json`));
      return JSON.parse(new TextDecoder().decode(bytes)) as { texts?: string[]; problem?: string };
    } catch {
      return undefined;
    }
  });
  if (answer.texts === undefined) throw new Error(answer.problem);
  return answer.texts;
}
