import { commands, type Diagnostic, DiagnosticSeverity, Disposable, languages, type TextEditor, window } from 'vscode';

/** What the walkthrough waits for; what a command begins is known without. */
export type FirstStep = 'newBuild' | 'finding' | 'hover';

/**
 * Ticks a step of the walkthrough off. The context is there for a moment only: a workbench that learns of the walkthrough while it is set
 * would never tick the step.
 */
export async function done(step: FirstStep): Promise<void> {
  await commands.executeCommand('setContext', `fettle.done.${step}`, true);
  await commands.executeCommand('setContext', `fettle.done.${step}`, undefined);
}

/** A finding counts as seen when it is in a file that is shown. */
export function watchForFindings(): Disposable {
  return Disposable.from(
    languages.onDidChangeDiagnostics(({ uris }) => {
      const changed = new Set(uris.map((uri) => uri.toString()));
      lookAt(window.visibleTextEditors.filter(({ document }) => changed.has(document.uri.toString())));
    }),
    window.onDidChangeVisibleTextEditors(lookAt),
  );
}

function lookAt(shown: readonly TextEditor[]): void {
  if (shown.some(({ document }) => languages.getDiagnostics(document.uri).some(isUnsafe))) void done('finding');
}

const isUnsafe = ({ source, severity }: Diagnostic): boolean =>
  source === 'fettle' && severity <= DiagnosticSeverity.Warning;
