import type { RecorderRole, VolumeIdentity } from '@quayside/shoot';
import type { Configuration } from './configuration-schema.ts';
import { matchesLabel } from './label-pattern.ts';

/** The recorder whose drive this is: by UUID first, then by label, in the order of the file. Null is an unclaimed volume. */
export function recorderFor(
  { recorders }: Pick<Configuration, 'recorders'>,
  { uuid, label }: Pick<VolumeIdentity, 'uuid' | 'label'>,
): { readonly name: string; readonly role: RecorderRole } | null {
  const all = Object.entries(recorders);
  const found =
    all.find(([, { match }]) => uuid !== null && match.some((one) => one.uuid?.toLowerCase() === uuid.toLowerCase())) ??
    all.find(
      ([, { match }]) =>
        label !== null && match.some((one) => one.label !== undefined && matchesLabel(one.label, label)),
    );
  return found === undefined ? null : { name: found[0], role: found[1].role };
}
