/** Plugs as fitted to packs and leads: built-in types, and those that a file declares. */

import type { Part } from '../../model/build.ts';
import { partKey } from '../../model/identities.ts';
import { ofKind } from '../../model/of-kind.ts';
import { plugOf } from '../../vocabulary/plugs.ts';

export interface FittedPlug {
  /** As messages call it. */
  readonly name: string;
  /** Of built-in types their name; of declared ones their place. */
  readonly identity: string;
  /** Identity of what it connects to. */
  readonly mates: string;
  /** What its contacts are rated for continuously, and for seconds where a file states it, A. */
  readonly continuous?: number;
  readonly burst?: number;
  /** What it is, in words. */
  readonly description: string;
}

/** The plug of a pack or lead; undefined where none is declared. */
export function plugAt(fitting: Part<'pack' | 'lead'>): FittedPlug | undefined {
  const own = ofKind(fitting.part('plug'), 'plug');
  if (own) return declaredPlug(own);
  const name = fitting.word('plug');
  const plug = plugOf(name);
  return plug && name !== undefined
    ? { name, identity: name, mates: name, continuous: plug.continuous, description: plug.description }
    : undefined;
}

function declaredPlug(plug: Part<'plug'>): FittedPlug {
  const continuous = plug.declared('continuous')?.value;
  const burst = plug.declared('burst')?.value;
  const other = plug.part('mates');
  return {
    name: plug.name,
    identity: partKey(plug),
    mates: other ? partKey(other) : (plug.word('mates') ?? partKey(plug)),
    ...(continuous !== undefined && { continuous }),
    ...(burst !== undefined && { burst }),
    description: plug.title ?? 'a plug of your own',
  };
}

/** It is enough that one of the two reports it. */
export const connects = (one: FittedPlug, other: FittedPlug): boolean =>
  one.mates === other.identity || other.mates === one.identity;
