/** What the suite requests from the owner of the window that it runs in. */
export interface Question {
  readonly id: number;
  /** Inside the sheet of this build; else in the workbench itself. */
  readonly sheet?: string;
  readonly selector: string;
  /** What to do with the first that is found, before all their texts are read. */
  readonly act?: 'click' | 'enter' | 'answer';
  /** To `answer` with: typed over what is there, then entered. */
  readonly text?: string;
}

/** Begins a line of the console with a request. */
export const QUESTION_MARK = '[question] ';
/** Folder of the workspace in which answers are left. */
export const ANSWERS = '.answers';
