import type { FaultKind } from '../fault-kinds.ts';
import {
  destinationFull,
  destinationReadOnly,
  destinationSlow,
  destinationUnmounted,
  destinationWriteError,
} from './destination-trouble.ts';
import type { Fault } from './fault.ts';
import { bitFlippedAfterSealing, bitFlippedBeforeReadBack } from './flipped-bits.ts';
import { partKilled, serviceKilled, supervisorKilled } from './killed-processes.ts';
import { destinationLosesPower, powerCut } from './power-loss.ts';
import { allVanish, pulled, workedOnWhileAway } from './pulled-drives.ts';
import { redisFilesDeleted, redisFlushed, redisKilled, redisOutOfMemory, redisStopped } from './redis-trouble.ts';
import { everyReadFails, regionFailsForAMoment, regionFailsForGood } from './unreadable-drives.ts';

/** What brings each kind of fault about. */
export const ALL_FAULTS: Readonly<Record<FaultKind, Fault>> = {
  'drive pulled, back at its place': pulled('its place'),
  'drive pulled, back at another place': pulled('another place'),
  'all drives vanish': allVanish,
  'every read fails': everyReadFails,
  'a region fails for a moment': regionFailsForAMoment,
  'a region fails for good': regionFailsForGood,
  'a file changed while away': workedOnWhileAway('changed'),
  'a file added while away': workedOnWhileAway('added'),
  'a file removed while away': workedOnWhileAway('removed'),
  'service killed': serviceKilled,
  'supervisor killed': supervisorKilled,
  'worker killed': partKilled('worker'),
  'watcher killed': partKilled('watcher'),
  'API killed': partKilled('API'),
  'mover killed': partKilled('movers'),
  'power cut': powerCut,
  'power lost at a destination': destinationLosesPower,
  'Redis killed': redisKilled,
  'Redis stopped for a while': redisStopped,
  'Redis flushed': redisFlushed,
  'Redis files deleted': redisFilesDeleted,
  'Redis out of memory': redisOutOfMemory,
  'destination full': destinationFull,
  'destination read-only': destinationReadOnly,
  'destination unmounted': destinationUnmounted,
  'destination write error': destinationWriteError,
  'destination slow': destinationSlow,
  'bit flipped before its read-back': bitFlippedBeforeReadBack,
  'bit flipped after sealing': bitFlippedAfterSealing,
};
