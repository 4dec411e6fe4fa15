import type { MediaFacts, PictureFacts, SoundFacts } from '@quayside/shoot';
import type { FileBytes } from '../file-bytes/file-bytes.ts';
import { isoDamage } from '../iso-media/iso-damage.ts';
import { countPictures, countSoundSamples, findReel, findStartTimecode, shownMs } from '../iso-media/picture-timing.ts';
import type { IsoMedia } from '../iso-media/read-iso-media.ts';
import type { Track } from '../iso-media/read-track.ts';
import { gapDamage, soundShortDamage } from './timing-damage.ts';
import { durationMsOf } from './duration.ts';

/** The library's description with the exact numbers of the file's own tables in the place of its rounded ones. */
export function withIsoMedia(described: MediaFacts, iso: IsoMedia, file: FileBytes): MediaFacts {
  const damage = isoDamage(iso, file.size);
  const track = described.picture === null ? null : findPictureTrack(iso.tracks);
  const picture = described.picture === null ? null : withExactTimes(described.picture, track);
  const soundTracks = iso.tracks.filter(({ handler }) => handler === 'soun');
  // Both list them in the file's order; when one has left a track out, which is which is not certain.
  const areSame = soundTracks.length === described.sound.length;
  const sound = described.sound.map((facts, index) =>
    withExactCount(facts, areSame ? (soundTracks[index] ?? null) : null),
  );
  const pictureMs = track === null ? null : shownMs(track);
  const isUnfinished = damage.some(({ kind }) => kind === 'no-index');
  return {
    ...described,
    // Without an index nobody can tell what it holds; what such files hold on a recorder's drive is pictures.
    kind: described.kind === 'other' && isUnfinished ? 'picture' : described.kind,
    container: iso.container,
    durationMs: durationMsOf(pictureMs, picture === null ? sound : []) ?? described.durationMs,
    picture,
    sound,
    startTimecode: (track === null ? null : findStartTimecode(file, iso.tracks, track)) ?? described.startTimecode,
    reel: (track === null ? null : findReel(iso.tracks, track)) ?? described.reel,
    damage: [...damage, ...gapDamage(track?.pace.gaps ?? null), ...soundShortDamage(pictureMs, sound)],
  };
}

function findPictureTrack(tracks: readonly Track[]): Track | null {
  return tracks.find(({ handler, sampleCount }) => handler === 'vide' && sampleCount > 0) ?? null;
}

function withExactTimes(picture: PictureFacts, track: Track | null): PictureFacts {
  if (track === null) return picture;
  return {
    ...picture,
    pixelAspect: track.pixelAspect ?? picture.pixelAspect,
    rate: track.pace.rate ?? picture.rate,
    isVariableRate: track.pace.isVariable,
    frameCount: countPictures(track),
  };
}

function withExactCount(sound: SoundFacts, track: Track | null): SoundFacts {
  return track === null ? sound : { ...sound, sampleCount: countSoundSamples(track, sound.sampleRate) };
}
