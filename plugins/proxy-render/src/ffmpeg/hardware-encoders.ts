import { runProgram } from './run-program.ts';

/** An encoder of the machine's own for H.264, as ffmpeg is told to use it. */
export interface HardwareEncoder {
  readonly name: string;
  /** Options before everything else. */
  readonly device: readonly string[];
  /** What pictures pass last, so that it takes them. */
  readonly filter: string;
  readonly options: readonly string[];
}

/** Those that are tried, in this order. Names and options are ffmpeg's own. */
export const HARDWARE_ENCODERS: readonly HardwareEncoder[] = [
  { name: 'h264_videotoolbox', device: [], filter: 'format=nv12', options: ['-allow_sw', '0'] },
  { name: 'h264_nvenc', device: [], filter: 'format=nv12', options: ['-rc', 'vbr'] },
  {
    name: 'h264_vaapi',
    device: ['-vaapi_device', '/dev/dri/renderD128'],
    filter: 'format=nv12,hwupload',
    options: ['-rc_mode', 'VBR'],
  },
];

/** What of the machine's own encodes H.264; or null, and why each of them does not, in ffmpeg's words. */
export interface FoundHardware {
  readonly encoder: HardwareEncoder | null;
  readonly refused: readonly string[];
}

/**
 * Has each encoder make one picture: that one is in ffmpeg says nothing about the machine. What was found counts as long as
 * this process lives.
 * @throws StepFailure `FFMPEG_MISSING`; the signal's reason
 */
export async function findHardware(ffmpeg: string, signal: AbortSignal): Promise<FoundHardware> {
  const known = found.get(ffmpeg);
  if (known !== undefined) return known;
  const refused: string[] = [];
  for (const encoder of HARDWARE_ENCODERS) {
    const { code, said } = await runProgram(ffmpeg, trialArguments(encoder), { signal, onLine: () => undefined });
    if (code === 0) return remember(ffmpeg, { encoder, refused });
    refused.push(`${encoder.name}: ${said.trim().split('\n')[0] ?? `exit code ${code}`}`);
  }
  return remember(ffmpeg, { encoder: null, refused });
}

const found = new Map<string, FoundHardware>();

function remember(ffmpeg: string, what: FoundHardware): FoundHardware {
  found.set(ffmpeg, what);
  return what;
}

/** What ffmpeg is told to encode one picture and keep nothing of it. */
function trialArguments({ name, device, filter, options }: HardwareEncoder): readonly string[] {
  return [
    ['-hide_banner', '-nostdin', '-v', 'error', ...device],
    ['-f', 'lavfi', '-i', 'color=size=256x144:rate=25', '-frames:v', '1'],
    ['-filter:v', filter, '-c:v', name, ...options, '-b:v', '1000k', '-f', 'null', '-'],
  ].flat();
}
