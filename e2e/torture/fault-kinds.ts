/** When in the life of a roll a fault strikes. */
export type Moment =
  | 'before it has settled'
  | 'while copying'
  | 'during read-back'
  | 'during sealing'
  | 'during judging'
  | 'after clear';

const WORK = ['while copying', 'during read-back', 'during sealing', 'during judging'] as const;
const ANY = ['before it has settled', ...WORK, 'after clear'] as const;
/** Where it most often matters, the middle of a file comes up most often. */
const MOSTLY_COPYING = ['while copying', 'while copying', ...ANY] as const;

/** Every kind of fault that the runner can bring about, and the moments at which it means something. */
export const MOMENTS_OF = {
  'drive pulled, back at its place': MOSTLY_COPYING,
  'drive pulled, back at another place': MOSTLY_COPYING,
  'all drives vanish': MOSTLY_COPYING,
  'every read fails': ['before it has settled', 'while copying', 'while copying'],
  'a region fails for a moment': ['while copying'],
  'a region fails for good': ['before it has settled'],
  'a file changed while away': MOSTLY_COPYING,
  'a file added while away': MOSTLY_COPYING,
  'a file removed while away': MOSTLY_COPYING,
  'service killed': MOSTLY_COPYING,
  'supervisor killed': MOSTLY_COPYING,
  'worker killed': MOSTLY_COPYING,
  'watcher killed': ANY,
  'API killed': ANY,
  'mover killed': ['while copying', 'during read-back'],
  'power cut': MOSTLY_COPYING,
  'power lost at a destination': MOSTLY_COPYING,
  'Redis killed': MOSTLY_COPYING,
  'Redis stopped for a while': MOSTLY_COPYING,
  'Redis flushed': MOSTLY_COPYING,
  'Redis files deleted': MOSTLY_COPYING,
  'Redis out of memory': MOSTLY_COPYING,
  'destination full': ['before it has settled', 'while copying', 'while copying'],
  'destination read-only': ['before it has settled', ...WORK],
  'destination unmounted': ANY,
  'destination write error': WORK,
  'destination slow': ['while copying', 'during read-back'],
  'bit flipped before its read-back': ['during read-back'],
  'bit flipped after sealing': ['after clear'],
} as const satisfies Record<string, readonly Moment[]>;

export type FaultKind = keyof typeof MOMENTS_OF;

export const FAULT_KINDS = Object.keys(MOMENTS_OF) as readonly FaultKind[];
