import { join } from 'node:path';
import { digestOf } from '../plugins/load-plugins.ts';

/** What a run is about, for the name of its place. */
export interface Placed {
  readonly shootId: string;
  readonly plugin: string;
  readonly step: string;
  readonly subject: { readonly kind: string; readonly id: string };
}

/** The folder below a destination's root that holds everything of plugins in a shoot. */
export function pluginsFolder(shootId: string): string {
  return join(shootId, 'records', 'plugins');
}

/** The folder below a destination's root for what a run left. */
export function outputPlace({ shootId, plugin, step, subject }: Placed): string {
  return join(pluginsFolder(shootId), plugin, step, nameOf(subject));
}

/** A clip's name is a path of any characters; a plain name and a digest stand for it. */
function nameOf({ kind, id }: Placed['subject']): string {
  if (kind !== 'clip') return id;
  const plain = id.replaceAll(/[^A-Za-z0-9._-]+/g, '_').slice(0, 100);
  return `${plain}-${digestOf(id).slice(0, 8)}`;
}
