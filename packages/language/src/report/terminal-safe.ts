/** Control characters of a hostile title or file name, made visible: nothing a file says may drive the terminal. */
export const terminalSafe = (text: string): string =>
  // biome-ignore lint/suspicious/noControlCharactersInRegex: control characters are what this is about
  text.replace(/[\u0000-\u0008\u000a-\u001f\u007f-\u009f\u200e\u200f\u202a-\u202e\u2066-\u2069]/g, (character) =>
    `\\u{${(character.codePointAt(0) ?? 0).toString(16)}}`,
  );
