/** The sheet's own view, as the extension has it, in a frame: its messages to the editor goes to the page around it. */
let state: unknown;

Object.assign(globalThis, {
  acquireVsCodeApi: () => ({
    postMessage: (message: unknown) => parent.postMessage(message, location.origin),
    getState: () => state,
    setState: (next: unknown) => {
      state = next;
    },
  }),
});

/** The theme that a reader chose on the page around it; else the reader's own setting decides. */
function followTheme(): void {
  const theme = parent.document.documentElement.dataset.theme;
  if (theme === undefined) delete document.documentElement.dataset.theme;
  else document.documentElement.dataset.theme = theme;
}
followTheme();
new MutationObserver(followTheme).observe(parent.document.documentElement, { attributeFilter: ['data-theme'] });
