/**
 * The size of a DNxHR frame in bytes, by stored size; every frame has the same. Source: the publisher's "DNxHR Codec Bandwidth
 * Specifications": the only multiples of 4096 that give its published MiB in a second at 23.976, 25, 29.97, 50 and 59.94.
 */
export const DNXHR_SIZES: readonly {
  readonly width: number;
  readonly height: number;
  readonly bytesPerFrame: Readonly<Record<DnxhrProfile, number>>;
}[] = [
  { width: 1920, height: 1080, bytesPerFrame: profiles([188_416, 602_112, 909_312, 1_822_720]) },
  { width: 2048, height: 1080, bytesPerFrame: profiles([200_704, 643_072, 970_752, 1_941_504]) },
  { width: 3840, height: 2160, bytesPerFrame: profiles([749_568, 2_408_448, 3_641_344, 7_286_784]) },
  { width: 4096, height: 2160, bytesPerFrame: profiles([798_720, 2_568_192, 3_887_104, 7_770_112]) },
];

export const DNXHR_PROFILES = ['dnxhr-lb', 'dnxhr-sq', 'dnxhr-hq', 'dnxhr-hqx', 'dnxhr-444'] as const;
export type DnxhrProfile = (typeof DNXHR_PROFILES)[number];

function profiles([lb, sq, hq, four]: readonly [number, number, number, number]): Record<DnxhrProfile, number> {
  return { 'dnxhr-lb': lb, 'dnxhr-sq': sq, 'dnxhr-hq': hq, 'dnxhr-hqx': hq, 'dnxhr-444': four };
}
