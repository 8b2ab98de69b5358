import type { VNode } from 'preact';
import { KEYS, type KeyName } from './keys.ts';

/** The key of an action, as it stands on its button. */
export function Key({ name }: { name: KeyName }): VNode {
  return <kbd>{KEYS[name].key}</kbd>;
}
