import { expect, it } from 'vitest';
import { clip, plan } from '../clips.test-support.ts';
import { ProxyPolicy } from '../policy/proxy-policy.ts';
import { planDifferences } from './plan-differences.ts';

const CLIPS = ['1', '2', '3', '4'].map((take) => clip(`${take}.mov`));
const sentences = (...[before, now]: Parameters<typeof planDifferences>): readonly string[] =>
  planDifferences(before, now).map(({ sentence }) => sentence);

it('two plans of the same say nothing', () => {
  expect(planDifferences(plan(CLIPS), plan(CLIPS.toReversed()))).toEqual([]);
});

it('a changed policy says what becomes of the clips, those of one change together', () => {
  const smaller = ProxyPolicy.parse({
    rules: [
      { name: 'last', when: { longerThanSeconds: 100 }, make: 'none' },
      { name: 'all', make: 'h264', within: '1280x720' },
    ],
  });
  const clips = [...CLIPS, clip('5.mov', { facts: { durationMs: 200_000 } })];
  expect(sentences(plan(clips), plan(clips, {}, smaller))).toEqual([
    'wheel 1.mov and 3 others: gets h264 1280x720 at 3.56 Mb/s; before, gets prores-422-proxy 1920x1080.',
    'wheel 5.mov: no proxy needed; before, gets prores-422-proxy 1920x1080.',
    'In all: 4 proxies, 178 MB, 14 min of work; before, 5 proxies, 1.5 GB, 18 min of work.',
  ]);
});

it('clips that came, went, or no longer fit are told', () => {
  const told = sentences(plan(CLIPS.slice(0, 2)), plan(CLIPS.slice(1, 3), { space: { place: 'primary', bytes: 0 } }));
  expect(told.slice(0, 3)).toEqual([
    'wheel 2.mov: left out for want of room, prores-422-proxy 1920x1080; before, gets prores-422-proxy 1920x1080.',
    'wheel 3.mov: new, left out for want of room, prores-422-proxy 1920x1080.',
    'wheel 1.mov: gone from the shoot.',
  ]);
});
