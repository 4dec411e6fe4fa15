import { FolderName } from '@quayside/shoot';
import { z } from 'zod';
import { PictureSizeText } from './picture-size.ts';

/** What a proxy is made of. `prores-422-proxy` is intra-frame and cuts easily; `h264` is a fraction of its size. */
export const ProxyCodec = z.enum(['prores-422-proxy', 'h264']);
export type ProxyCodec = z.output<typeof ProxyCodec>;

/** What must hold for a rule to count, all of it at once. A condition on a fact that the clip does not tell does not hold. */
export const ProxyCondition = z.strictObject({
  codec: z
    .array(z.string().min(1))
    .min(1)
    .optional()
    .describe(
      'Codecs of the original, such as H.264, H.265 or ProRes; dots, dashes and case do not count. Default: any.',
    ),
  largerThan: PictureSizeText.optional().describe(
    'The picture is wider or higher than this, such as 1920x1080. Default: any.',
  ),
  fasterThan: z.number().min(0.001).optional().describe('More frames in a second than this. Default: any.'),
  slowerThan: z.number().min(0.001).optional().describe('Fewer frames in a second than this. Default: any.'),
  heavierThan: z
    .number()
    .positive()
    .optional()
    .describe('More megabits (10^6) in a second than this, of the whole file. Default: any.'),
  lighterThan: z.number().min(0.001).optional().describe('Fewer megabits (10^6) in a second than this. Default: any.'),
  deeperThan: z.int().min(1).optional().describe('More bits in a sample of the picture than this. Default: any.'),
  recorder: z.array(FolderName).min(1).optional().describe('Clips of these recorders. Default: any.'),
  group: z
    .enum(['complete', 'any', 'none'])
    .optional()
    .describe('Clips of a sync group that all recorders have, of any sync group, or of none. Default: any.'),
  longerThanSeconds: z.number().min(0).optional().describe('Clips that run longer than this. Default: any.'),
  shorterThanSeconds: z.number().min(0.001).optional().describe('Clips that run shorter than this. Default: any.'),
});
export type ProxyCondition = z.output<typeof ProxyCondition>;

/** Which clips get which proxy. */
export const ProxyRule = z.strictObject({
  name: z.string().trim().min(1).max(80).describe('What the rule is called in plans and reports. No default.'),
  when: ProxyCondition.prefault({}).describe('When the rule counts; all of it must hold. Default: always.'),
  make: z
    .enum(['none', ...ProxyCodec.options])
    .describe('`prores-422-proxy`, `h264`, or `none`: the original is edited as it is. No default.'),
  within: PictureSizeText.refine(
    (text) => text.split('x').every((side) => Number(side) % 2 === 0 && Number(side) >= 64),
    { message: 'has a side that is odd or below 64', params: { remedy: 'write even numbers, such as 1920x1080' } },
  )
    .default('1920x1080')
    .describe(
      'The box that the proxy fits in, turned for portrait pictures. Default 1920x1080. It is never up-scaled.',
    ),
  megabits: z
    .number()
    .min(0.1)
    .max(500)
    .default(8)
    .describe(
      'For h264: megabits in a second at 1920x1080 and 25 frames, taken up or down with size and rate. Default 8. Half of it shows blocks in motion.',
    ),
});
export type ProxyRule = z.output<typeof ProxyRule>;

/** The rules that hold when none are given: what a usual editing computer does not play several times at once gets a proxy. */
export const DEFAULT_PROXY_RULES: readonly z.input<typeof ProxyRule>[] = [
  { name: 'larger than HD', when: { largerThan: '1920x1080' }, make: 'prores-422-proxy' },
  {
    name: 'long runs of dependent frames, ten bits',
    when: { codec: ['H.264', 'H.265', 'MPEG-4 Visual', 'MPEG Video'], deeperThan: 8 },
    make: 'prores-422-proxy',
  },
  { name: 'slow to decode', when: { codec: ['H.265', 'AV1', 'VP9'] }, make: 'prores-422-proxy' },
  { name: 'many frames', when: { fasterThan: 60 }, make: 'prores-422-proxy' },
  { name: 'heavy', when: { heavierThan: 250 }, make: 'prores-422-proxy' },
];

/** Which clips of a shoot get proxies. `ProxyPolicy.parse({})` gives the defaults. */
export const ProxyPolicy = z.object({
  /** The first rule that holds decides; a clip that none names is edited as it is. */
  rules: z.array(ProxyRule).prefault([...DEFAULT_PROXY_RULES]),
  /** The most that the proxies of one shoot may take, in bytes; null leaves it to the free space. */
  budgetBytes: z.number().int().nonnegative().nullable().default(null),
});
export type ProxyPolicy = z.output<typeof ProxyPolicy>;
