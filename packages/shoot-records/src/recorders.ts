import type { RecorderRole } from '@quayside/shoot';
import { compareText } from './in-order.ts';
import type { PicturedClip } from './shoot-picture.ts';

export interface Recorder {
  readonly name: string;
  readonly role: RecorderRole;
}

const ROLES: readonly RecorderRole[] = ['camera', 'program', 'sound'];

/** The recorders of the clips, each once: cameras, the program, then sound, and by name within a role. */
export function listRecorders(clips: readonly PicturedClip[]): readonly Recorder[] {
  const roles = new Map<string, RecorderRole>();
  for (const { recorder, role } of clips) {
    const known = roles.get(recorder);
    // Whatever the order of the clips, a recorder that has clips of two roles is shown under the first one.
    if (known === undefined || ROLES.indexOf(role) < ROLES.indexOf(known)) roles.set(recorder, role);
  }
  return [...roles]
    .map(([name, role]) => ({ name, role }))
    .toSorted(
      (left, right) => ROLES.indexOf(left.role) - ROLES.indexOf(right.role) || compareText(left.name, right.name),
    );
}
