import type { ProxyTarget } from '@quayside/proxy-planning';
import type { HardwareEncoder } from './hardware-encoders.ts';

export interface Rendering {
  /** Absolute. */
  readonly original: string;
  /** Absolute; nothing may lie there. */
  readonly proxy: string;
  readonly target: ProxyTarget;
  /** The first label as ffmpeg is told to write it, or null. */
  readonly timecode: string | null;
  /** Threads for the encoder; 0 leaves it to ffmpeg. */
  readonly threads: number;
  /** The machine's own encoder, for h264; null: ffmpeg's. */
  readonly hardware: HardwareEncoder | null;
}

/** What ffmpeg is told to make a proxy: every frame of the original once, at its rate, with all of its sound tracks. */
export function renderArguments({
  original,
  proxy,
  target,
  timecode,
  threads,
  hardware,
}: Rendering): readonly string[] {
  return [
    hardware?.device ?? [],
    // A file that names others, as a playlist does, reaches nothing but files.
    ['-protocol_whitelist', 'file'],
    // The separate channels of a recorder are no surround sound, however many they are.
    ['-guess_layout_max', '2'],
    // ffmpeg guesses rates, and knows none of 119.88: told, it counts frames and labels at the right one.
    target.isVariableRate ? [] : ['-r', fractionOf(target.rate)],
    ['-i', `file:${original}`],
    ['-map', '0:v:0'],
    target.sound.flatMap((_, track) => ['-map', `0:a:${track}`]),
    ['-map_metadata', '-1', '-map_chapters', '-1'],
    ['-filter:v', filtersOf(target, hardware)],
    // No frame is dropped or made twice, whatever the times in the file say.
    ['-fps_mode:v', 'passthrough'],
    ['-enc_time_base:v', target.isVariableRate ? '-1' : `${target.rate.denominator}:${target.rate.numerator}`],
    threads === 0 ? [] : ['-threads', String(threads)],
    encoderOf(target, hardware),
    target.sound.flatMap(({ bitDepth }, track) => [`-c:a:${track}`, bitDepth === 24 ? 'pcm_s24le' : 'pcm_s16le']),
    timecode === null ? ['-write_tmcd', 'off'] : ['-timecode', timecode],
    ['-f', 'mov', `file:${proxy}`],
  ].flat();
}

/** What ffmpeg encodes a codec with. */
export const ENCODERS = { 'prores-422-proxy': 'prores_ks', h264: 'libx264' } as const;

/** The suffix that a proxy's name has. */
export const PROXY_SUFFIX = '.mov';

/** Fields are scaled apart. Each frame gets one tick of the rate, unless the frames of the original keep their own times. */
function filtersOf(
  { width, height, pixelAspect, rate, scan, isVariableRate }: ProxyTarget,
  hardware: HardwareEncoder | null,
): string {
  const scale = `scale=${width}:${height}:flags=bicubic:interl=${isInterlaced(scan) ? 1 : 0}`;
  const aspect = `setsar=${pixelAspect.numerator}/${pixelAspect.denominator}`;
  const times = isVariableRate ? [] : [`settb=${rate.denominator}/${rate.numerator}`, 'setpts=N'];
  return [scale, aspect, ...times, ...(hardware === null ? [] : [hardware.filter])].join(',');
}

function encoderOf(target: ProxyTarget, hardware: HardwareEncoder | null): readonly string[] {
  const fields = isInterlaced(target.scan) ? ['-flags:v', '+ilme+ildct'] : [];
  if (target.codec === 'prores-422-proxy') {
    return [
      '-c:v',
      ENCODERS[target.codec],
      '-profile:v',
      'proxy',
      '-vendor',
      'apl0',
      '-pix_fmt',
      'yuv422p10le',
      ...fields,
    ];
  }
  const kilobits = Math.max(1, Math.round((target.megabits ?? 1) * 1000));
  const gop = Math.max(1, Math.round(target.rate.numerator / target.rate.denominator));
  return [
    hardware === null
      ? ['-c:v', ENCODERS[target.codec], '-preset', 'fast', '-pix_fmt', 'yuv420p', ...fields]
      : ['-c:v', hardware.name, ...hardware.options],
    ['-b:v', `${kilobits}k`, '-maxrate', `${kilobits * 2}k`, '-bufsize', `${kilobits * 2}k`],
    // A key frame each second, and no frames that depend on later ones: the first frame is shown at zero.
    ['-g', String(gop), '-bf', '0'],
  ].flat();
}

function fractionOf({ numerator, denominator }: ProxyTarget['rate']): string {
  return `${numerator}/${denominator}`;
}

export function isInterlaced(scan: ProxyTarget['scan']): boolean {
  return scan === 'interlaced' || scan === 'mixed';
}
