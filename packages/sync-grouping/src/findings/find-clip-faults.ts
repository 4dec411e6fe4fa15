import type { Clip } from '@quayside/shoot';
import type { GroupingPolicy } from '../grouping-policy.ts';
import type { UngroupedClip } from '../grouping-result.ts';
import { listBy } from '../in-order.ts';
import type { Twins } from '../reading/find-twins.ts';
import type { FindingDraft } from './finding-draft.ts';

/** What is wrong with a clip by itself: damage, odd sound, a varying rate. */
export function findClipFaults(clips: readonly Clip[], policy: GroupingPolicy): readonly FindingDraft[] {
  return [
    ...clips.filter((clip) => clip.facts.damage.length > 0).map(describeDamage),
    ...clips.filter((clip) => clip.facts.picture?.isVariableRate === true).map(describeVariableRate),
    ...findOddSampleRates(clips, policy),
  ];
}

/** What keeps a clip out of the groups, where a person must know. A file that is no media is in order. */
export function findUnplaced(ungrouped: readonly UngroupedClip[]): readonly FindingDraft[] {
  return ungrouped.flatMap(({ clipId, recorder, code, why }) => {
    if (code === 'NO_MEDIA' || code === 'DAMAGED' || code === 'EXISTS_TWICE') return [];
    const finding = code === 'NO_TIMECODE' ? 'CLIP_WITHOUT_TIMECODE' : 'CLIP_NOT_PLACED';
    return [{ code: finding, recorder, groupId: null, clipIds: [clipId], clipId, why: `${clipId}: ${why}` } as const];
  });
}

/** One finding for each clip that exists more than once. */
export function findTwinClips(twins: readonly Twins[]): readonly FindingDraft[] {
  return twins.map(({ kept: { clip }, others }) => ({
    code: 'CLIP_EXISTS_TWICE',
    recorder: clip.recorder,
    groupId: null,
    clipIds: [clip.id, ...others.map((other) => other.clip.id)],
    clipId: clip.id,
    why: `${clip.path} (${clip.recorder}) is also there as ${others.map((other) => `${other.clip.path} of roll ${other.clip.rollId}`).join(', ')}: same size, timecode, length and date.`,
  }));
}

function describeDamage(clip: Clip): FindingDraft {
  const isPartial = clip.facts.damage.every(({ kind }) => kind === 'frame-gaps' || kind === 'sound-short');
  return {
    ...aboutClip(clip),
    code: 'CLIP_DAMAGED',
    why: `${clip.path} (${clip.recorder}) is damaged: ${clip.facts.damage.map(({ why }) => why).join(' ')}`,
    severity: isPartial ? 'warning' : 'critical',
  };
}

function describeVariableRate(clip: Clip): FindingDraft {
  return {
    ...aboutClip(clip),
    code: 'FRAME_RATE_VARIABLE',
    why: `The frames of ${clip.path} (${clip.recorder}) do not all last equally long.`,
  };
}

function findOddSampleRates(clips: readonly Clip[], { sampleRates }: GroupingPolicy): readonly FindingDraft[] {
  const odd: { readonly clip: Clip; readonly rate: number }[] = [];
  for (const clip of clips) {
    for (const { sampleRate } of clip.facts.sound) {
      if (sampleRate !== null && !sampleRates.includes(sampleRate)) odd.push({ clip, rate: sampleRate });
    }
  }
  const alike = listBy(odd, ({ clip, rate }) => `${clip.recorder}/${rate}`);
  return [...alike.values()].flatMap((ones) => {
    const [first] = ones;
    if (first === undefined) return [];
    const { recorder } = first.clip;
    const where = ones.length === 1 ? `${first.clip.path} (${recorder})` : `${ones.length} clips of ${recorder}`;
    return {
      code: 'SAMPLE_RATE_ODD' as const,
      recorder,
      groupId: null,
      clipIds: [...new Set(ones.map(({ clip }) => clip.id))],
      detail: String(first.rate),
      why: `The sound of ${where} runs at ${first.rate} Hz.`,
    };
  });
}

function aboutClip(clip: Clip): Pick<FindingDraft, 'recorder' | 'groupId' | 'clipIds' | 'clipId'> {
  return { recorder: clip.recorder, groupId: null, clipIds: [clip.id], clipId: clip.id };
}
