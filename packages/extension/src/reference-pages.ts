import { type Disposable, Uri, workspace } from 'vscode';

/** Shows what a finding links to: `fettle-reference:/findings/motor-overvoltage.md`, a page packed into the extension. */
export function provideReferencePages(extensionUri: Uri): Disposable {
  const pages = Uri.joinPath(extensionUri, 'dist', 'reference');
  return workspace.registerTextDocumentContentProvider('fettle-reference', {
    async provideTextDocumentContent(page) {
      try {
        const bytes = await workspace.fs.readFile(Uri.joinPath(pages, page.path));
        return new TextDecoder('utf-8').decode(bytes);
      } catch {
        return `# No such page\n\nThe reference has no page \`${page.path}\`.\n`;
      }
    },
  });
}
