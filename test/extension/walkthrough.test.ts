/** The walkthrough names what exists: its pictures, its commands, and contexts that the extension sets. */
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import * as protocol from '../../packages/language/src/editor/requests/protocol.ts';

const EXTENSION = join(import.meta.dirname, '../../packages/extension');

interface Step {
  readonly id: string;
  readonly description: string;
  readonly media: { readonly image: Readonly<Record<string, string>>; readonly altText: string };
  readonly completionEvents: readonly string[];
}

const words: Readonly<Record<string, string>> = JSON.parse(readFileSync(join(EXTENSION, 'package.nls.json'), 'utf8'));
const { contributes } = JSON.parse(
  readFileSync(join(EXTENSION, 'package.json'), 'utf8').replace(/%([\w.]+)%/g, (_, key) =>
    JSON.stringify(words[key] ?? '').slice(1, -1),
  ),
);
const steps: Step[] = contributes.walkthroughs[0].steps;
const commands: string[] = contributes.commands.map(({ command }: { command: string }) => command);
const source = readdirSync(join(EXTENSION, 'src'), { recursive: true, encoding: 'utf8' })
  .filter((file) => file.endsWith('.ts'))
  .map((file) => readFileSync(join(EXTENSION, 'src', file), 'utf8'))
  .join('\n');

describe.each(steps)('step $id', ({ description, media, completionEvents }) => {
  it('has its pictures, in light, dark and high contrast, and words for them', () => {
    expect(Object.keys(media.image).sort()).toEqual(['dark', 'hc', 'hcLight', 'light']);
    for (const picture of Object.values(media.image)) expect(existsSync(join(EXTENSION, picture))).toBe(true);
    expect(media.altText).not.toBe('');
  });

  it('calls commands that the extension or the workbench has', () => {
    const called = [...description.matchAll(/\]\(command:([\w.]+)\)/g)].map(([, command]) => command);
    expect(called.filter((command) => command?.startsWith('fettle.') && !commands.includes(command))).toEqual([]);
  });

  it('is ticked off by something that happens', () => {
    expect(completionEvents).toHaveLength(1);
    for (const event of completionEvents) {
      const [, kind, name = ''] = /^(\w+):(.+)$/.exec(event) ?? [];
      if (kind === 'onCommand') expect(commands).toContain(name);
      else if (kind === 'onContext') expect(source).toContain(`done('${name.replace('fettle.done.', '')}')`);
      else expect(event).toBe('onView:workbench.view.testing');
    }
  });
});

describe('every command', () => {
  it.each(commands)('%s is registered', (command) => {
    const [constant] = Object.entries(protocol).find(([, value]) => value === command) ?? [`'${command}'`];
    expect(source).toMatch(new RegExp(`(?:registerCommand\\(|command: )${constant}(?!\\w)`));
  });
});
