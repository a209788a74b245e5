import { type Disposable, type Event, EventEmitter } from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import { checkedNotification } from '../../language/src/editor/requests/protocol.ts';

export interface CheckedFiles extends Disposable {
  /** Files that were checked anew, or are gone, by URI: answers about them may be out of date. */
  readonly onDidCheck: Event<ReadonlySet<string>>;
}

/** A client hands a notification to one listener only; here are as many as need it. */
export function checkedFiles(client: BaseLanguageClient): CheckedFiles {
  const checked = new EventEmitter<ReadonlySet<string>>();
  const listener = client.onNotification(checkedNotification, ({ uris }) => checked.fire(new Set(uris)));
  return {
    onDidCheck: checked.event,
    dispose() {
      listener.dispose();
      checked.dispose();
    },
  };
}
