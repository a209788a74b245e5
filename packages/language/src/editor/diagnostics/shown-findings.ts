/** Findings as they are shown in a folder: of what may be shown now, as its settings have it. */
import type { LangiumDocument } from 'langium';
import type { Diagnostic } from 'vscode-languageserver-types';
import type { Finding } from '../../checks/finding.ts';
import type { EngineServices } from '../engine/editor-services.ts';
import type { FolderSettings } from '../engine/folder-settings.ts';
import { isAccepted, PROTOCOL_SEVERITIES } from './convert.ts';

/** An accepted finding stays a hint; one that is off is in the verdicts all the same. */
export function shownFindings(document: LangiumDocument, { lsp, workspace }: EngineServices): Diagnostic[] {
  const shown = lsp.Writing.shown(document);
  const { severities } = workspace.ConfigurationProvider.settingsOf(document.uri.toString());
  if (severities.size === 0) return shown;
  return shown.flatMap((diagnostic) => {
    const set = severities.get(String(diagnostic.code));
    if (set === 'off') return [];
    return set === undefined || isAccepted(diagnostic)
      ? diagnostic
      : { ...diagnostic, severity: PROTOCOL_SEVERITIES[set] };
  });
}

/** Findings that a folder shows, as severe as it has them, and those that are off there and not accepted. */
export function sortedBySetting(
  findings: readonly Finding[],
  { severities }: Pick<FolderSettings, 'severities'>,
): { readonly shown: readonly Finding[]; readonly off: readonly Finding[] } {
  const isOff = ({ id }: Finding): boolean => severities.get(id) === 'off';
  const shown = findings.flatMap((finding): Finding[] => {
    const set = severities.get(finding.id);
    if (set === 'off') return [];
    return [set === undefined ? finding : { ...finding, severity: set }];
  });
  return { shown, off: findings.filter((finding) => isOff(finding) && finding.accepted === undefined) };
}
