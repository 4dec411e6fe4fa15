import { QuaysideError } from '@quayside/shoot';
import type { PicturedClip, ShootPicture } from './shoot-picture.ts';

/** The clips of a picture by id. `get` throws CLIP_NOT_PICTURED for a clip that the picture names but does not hold. */
export interface ClipIndex {
  get(clipId: string): PicturedClip;
  find(clipId: string): PicturedClip | null;
}

/** Clips are looked up by id everywhere, never by their place in the list: the picture may hold them in any order. */
export function indexClips({ clips, shoot }: Pick<ShootPicture, 'clips' | 'shoot'>): ClipIndex {
  const byId = new Map(clips.map((clip) => [clip.id, clip]));
  const find = (clipId: string): PicturedClip | null => byId.get(clipId) ?? null;
  return {
    find,
    get: (clipId) => {
      const clip = find(clipId);
      if (clip !== null) return clip;
      throw new QuaysideError({
        code: 'CLIP_NOT_PICTURED',
        sentence: `The records of shoot ${shoot.id} could not be made: a group names the clip ${clipId}, which is not among the clips; group the shoot again.`,
        retry: 'later',
      });
    },
  };
}
