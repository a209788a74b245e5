/** Control and format characters of a hostile title or file name, made visible: nothing a file states may drive the terminal. */
export const terminalSafe = (text: string): string =>
  text.replace(/[\p{Cc}\p{Cf}]/gu, (character) => `\\u{${(character.codePointAt(0) ?? 0).toString(16)}}`);
