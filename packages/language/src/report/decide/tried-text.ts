/** What a trial found, for a terminal, a pull request or a program. */
import { terminalSafe } from '../../syntax/terminal-safe.ts';
import { plural } from '../../vocabulary/phrasing.ts';
import { comparisonRows, differenceTexts } from '../compare/compare.ts';
import type { ComparedRow } from '../compare/compare-data.ts';
import { columns } from '../present/display-width.ts';
import { jsonText } from '../present/json-text.ts';
import { cellCode, prose } from '../present/markdown-safe.ts';
import { severityWord } from '../present/report-words.ts';
import { wrap } from '../present/wrap.ts';
import type { MovedFinding, Tried, TriedPack } from './tried.ts';

const NOTE =
  'The ± of a difference leaves out what both have in common. * marks a difference that is larger than its own ±.';

const headOf = ({ before, after }: TriedPack): string => (before === after ? before : `${before} → ${after}`);

/** Rows in which the two differ; how many are the same. */
function reported({ comparison: { rows } }: TriedPack): { rows: ComparedRow[]; same: number } {
  const differing = rows.filter(({ cells: [one, other] }) => {
    if (!one?.level || !other?.level) return one?.level !== undefined || other?.level !== undefined;
    return other.difference !== undefined && other.difference.value !== 0;
  });
  return {
    rows: differing,
    same: rows.filter(({ cells }) => cells.some(({ level }) => level)).length - differing.length,
  };
}

const sameWords = (same: number, differing: number): string =>
  differing === 0
    ? 'nothing changes'
    : same === 0
      ? ''
      : `${plural(same, 'result')} stay${same === 1 ? 's' : ''} the same`;

export function triedText(tried: Tried): string {
  const blocks = tried.packs.map((pack) => {
    const { rows, same } = reported(pack);
    const table = [['', 'now', 'then', 'difference'], ...rows.map((row) => [row.label, ...differenceTexts(row)])];
    const rest = sameWords(same, rows.length);
    return `on ${terminalSafe(headOf(pack))}\n${rows.length > 0 ? columns(table) : ''}${rest ? `${rest}\n` : ''}`;
  });
  const findings = tried.findings.flatMap((one) => [
    wordsOf(one),
    ...wrap(terminalSafe(one.finding.message), 100).map((line) => `  ${line}`),
  ]);
  const found = findings.length > 0 ? `${findings.join('\n')}\n` : 'No finding comes or goes.\n';
  return `${terminalSafe(headLine(tried))}\n\n${blocks.join('\n')}\n${found}\n${NOTE}\n`;
}

const headLine = ({ build, lines }: Tried): string => `${build}, with ${lines.join(' · ')}`;

function wordsOf({ move, finding, packs }: MovedFinding): string {
  const on = packs.length > 0 ? `  on ${packs.join(', ')}` : '';
  return `${move.padEnd(5)}  ${severityWord(finding.severity)}  ${finding.id}${terminalSafe(on)}`;
}

export function triedMarkdown(tried: Tried): string {
  const blocks = tried.packs.map((pack) => {
    const { rows, same } = reported(pack);
    const rest = sameWords(same, rows.length);
    return [
      `On ${cellCode(headOf(pack))}:`,
      '',
      ...(rows.length > 0 ? ['| | now | then | difference |', '|:--|--:|--:|--:|'] : []),
      ...rows.map((row) => `| ${prose(row.label)} | ${differenceTexts(row).map(prose).join(' | ')} |`),
      ...(rest ? ['', `${rest}.`] : []),
      '',
    ].join('\n');
  });
  const findings = tried.findings.map(
    (one) =>
      `- **${one.move}** ${severityWord(one.finding.severity)} ${cellCode(one.finding.id)}${one.packs.length > 0 ? ` on ${one.packs.map(cellCode).join(', ')}` : ''}: ${prose(one.finding.message)}`,
  );
  return [
    `**${prose(tried.build)}**, with ${tried.lines.map(cellCode).join(' · ')}`,
    '',
    ...blocks,
    ...(findings.length > 0 ? findings : ['No finding comes or goes.']),
    '',
    prose(NOTE),
    '',
  ].join('\n');
}

/** Numbers are in the unit stated with them; ± is expanded (k = 2). */
export const triedJson = ({ build, lines, packs, findings }: Tried): string =>
  jsonText({
    version: 1,
    build,
    lines,
    packs: packs.map(({ before, after, comparison }) => ({
      before,
      after,
      results: comparisonRows(comparison).map(({ name, label, unit, cells: [now, then] }) => ({
        name,
        label,
        unit,
        before: now && 'value' in now ? { value: now.value, plusMinus: now.plusMinus } : null,
        after: then && 'value' in then ? { value: then.value, plusMinus: then.plusMinus } : null,
        difference: then?.difference ?? null,
        reason: then?.reason ?? now?.reason,
      })),
    })),
    findings: findings.map(({ move, finding, packs: on }) => ({
      move,
      id: finding.id,
      severity: finding.severity,
      message: finding.message,
      packs: on,
    })),
  });
