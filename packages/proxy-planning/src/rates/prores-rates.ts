/**
 * The target sizes of ProRes, in kilobits (1000 bits) of picture for each frame, by stored size. Source: the publisher's white
 * paper on ProRes (April 2022), appendix "Target Data Rates", which gives whole megabits in a second at five rates; each number
 * here gives all five of its row, rounded. At 4096x2160 the 422, HQ, 4444 and XQ columns cannot be met by one number and are off
 * by less than 0.2 %. 4444 and XQ are without an alpha channel.
 */
export const PRORES_SIZES: readonly {
  readonly width: number;
  readonly height: number;
  readonly kilobitsPerFrame: Readonly<Record<ProResProfile, number>>;
}[] = [
  { width: 1280, height: 720, kilobitsPerFrame: profiles([754.9, 1689.6, 2447.1, 3674.3, 5505, 8254.1]) },
  { width: 1920, height: 1080, kilobitsPerFrame: profiles([1514.1, 3404.6, 4893.3, 7344.5, 11_014.7, 16_517.4]) },
  { width: 2048, height: 1080, kilobitsPerFrame: profiles([1722.6, 3874.4, 5593.6, 8386.7, 12_583.8, 18_875.1]) },
  { width: 3840, height: 2160, kilobitsPerFrame: profiles([6058, 13_689.3, 19_660.7, 29_495, 44_242.9, 66_354]) },
  { width: 4096, height: 2160, kilobitsPerFrame: profiles([6467.4, 14_594, 20_970.5, 31_460.6, 47_174.2, 70_846.3]) },
];

export const PRORES_PROFILES = [
  'prores-422-proxy',
  'prores-422-lt',
  'prores-422',
  'prores-422-hq',
  'prores-4444',
  'prores-4444-xq',
] as const;
export type ProResProfile = (typeof PRORES_PROFILES)[number];

function profiles(row: readonly [number, number, number, number, number, number]): Record<ProResProfile, number> {
  const [proxy, lt, standard, hq, four, xq] = row;
  return {
    'prores-422-proxy': proxy,
    'prores-422-lt': lt,
    'prores-422': standard,
    'prores-422-hq': hq,
    'prores-4444': four,
    'prores-4444-xq': xq,
  };
}
