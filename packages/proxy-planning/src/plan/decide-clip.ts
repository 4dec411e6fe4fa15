import type { Clip, MediaFacts } from '@quayside/shoot';
import { measuresOf } from '../clips/clip-measures.ts';
import { fitFrame } from '../clips/fit-frame.ts';
import { type ClipToMatch, matchCondition } from '../clips/match-rule.ts';
import { megabitsOf, soundOf } from '../estimates/estimate-bytes.ts';
import { sizeOfText } from '../policy/picture-size.ts';
import type { ProxyPolicy, ProxyRule } from '../policy/proxy-policy.ts';
import type { ProxyTarget } from './proxy-plan.ts';

/** What the policy says of a clip, before room and order. */
export type Decision =
  | { readonly needs: 'proxy'; readonly rule: ProxyRule; readonly why: string; readonly proxy: ProxyTarget }
  | { readonly needs: 'nothing'; readonly rule: string | null; readonly why: string }
  | { readonly needs: 'facts'; readonly rule: string | null; readonly why: string };

/** Decides by the first rule that holds, and works out the proxy. */
export function decideClip(clip: Clip, group: ClipToMatch['group'], policy: ProxyPolicy): Decision {
  const { facts } = clip;
  const { picture } = facts;
  const measures = measuresOf(clip);
  if (picture === null || measures === null) return { needs: 'nothing', rule: null, why: withoutPicture(facts) };
  const damage = facts.damage.find(({ kind }) => UNREADABLE.has(kind));
  if (damage !== undefined) return { needs: 'facts', rule: null, why: `It is damaged: ${damage.why}` };

  for (const rule of policy.rules) {
    const matched = matchCondition({ clip, picture, measures, group }, rule.when);
    if (matched === null) continue;
    const why = sentence(matched, rule.name);
    return rule.make === 'none' ? { needs: 'nothing', rule: rule.name, why } : targetOf(clip, rule, why);
  }
  return { needs: 'nothing', rule: null, why: 'No rule asks for a proxy of it; it is edited as it is.' };
}

const UNREADABLE: ReadonlySet<string> = new Set(['truncated', 'no-index', 'zero-length', 'unreadable']);

function withoutPicture({ kind }: MediaFacts): string {
  if (kind === 'sound') return 'It is sound, which is edited as it is.';
  return kind === 'other' ? 'It is no clip.' : 'No picture in it could be read.';
}

function targetOf({ facts }: Clip, rule: ProxyRule, why: string): Decision {
  const { picture } = facts;
  const missing = (what: string): Decision => ({
    needs: 'facts',
    rule: rule.name,
    why: `It should get a proxy by rule "${rule.name}", but ${what}. Look at it on its recorder.`,
  });
  if (picture === null || rule.make === 'none') return missing('it has no picture');
  if (picture.rate === null) return missing('it does not say its frame rate');
  if (picture.frameCount === null || picture.frameCount === 0) return missing('it does not say how many frames it has');
  const frame = fitFrame(
    { ...picture, isInterlaced: picture.scan === 'interlaced' || picture.scan === 'mixed' },
    sizeOfText(rule.within),
  );
  if (frame === null) return missing(`its ${picture.width}x${picture.height} pixels are too few`);
  const rate = picture.rate.numerator / picture.rate.denominator;
  return {
    needs: 'proxy',
    rule,
    why,
    proxy: {
      codec: rule.make,
      megabits: rule.make === 'h264' ? megabitsOf({ size: frame, rate, megabits: rule.megabits }) : null,
      ...frame,
      scan: picture.scan,
      rate: picture.rate,
      isVariableRate: picture.isVariableRate,
      frameCount: picture.frameCount,
      startTimecode: facts.startTimecode,
      sound: [...soundOf(facts.sound)],
    },
  };
}

function sentence(matched: readonly string[], rule: string): string {
  const text = matched.length === 0 ? 'the rule holds for all clips' : matched.join(', and ');
  return `${text.charAt(0).toUpperCase()}${text.slice(1)} (rule "${rule}").`;
}
