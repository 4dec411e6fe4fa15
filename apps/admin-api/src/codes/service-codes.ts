import type { Codes } from './code-entry.ts';

/** About the service, its configuration, its API and Redis. */
export const SERVICE_CODES = {
  ALREADY_RUNNING: {
    meaning: 'Quayside already runs on that data folder.',
    remedy: 'Stop it first, or give this one another data folder.',
  },
  ANSWER_BROKEN_OFF: {
    meaning: 'The line to the service broke before its answer was whole.',
    remedy: 'Ask again.',
  },
  ANSWER_ODD: {
    meaning: 'The service answers in a way that the one who asked does not know; it may be of another version.',
    remedy: 'Use the command or the page that came with the service; until then, take every drive as not copied.',
  },
  CONFIG_INVALID: {
    meaning: 'The configuration cannot be used; each fault is named with its place.',
    remedy: 'Correct what the message names.',
  },
  CONFIG_MISSING: {
    meaning: 'The configuration file is not there.',
    remedy: 'Write it, or name another with --config.',
  },
  CONFIG_UNREADABLE: {
    meaning: 'The configuration file cannot be read.',
    remedy: 'Make it readable for the user of the service.',
  },
  DATA_FOLDER_UNUSABLE: {
    meaning: 'The data folder cannot be used.',
    remedy: 'Make it a folder of the user that runs the service, or set `data`.',
  },
  FOLDER_MISSING: {
    meaning: 'The folder that should be verified is not there.',
    remedy: 'Name the folder of a roll at a destination.',
  },
  FORMAT_UNKNOWN: {
    meaning: 'A recording format cannot be read, so it cannot be said how much room it takes.',
    remedy: 'Write it as CODEC/SIZE/RATE, such as prores-422-lt/3840x2160/23.976.',
  },
  ID_IMPOSSIBLE: {
    meaning: 'What was given as an id can be the id of nothing.',
    remedy: 'Give the id as the service shows it.',
  },
  NOT_QUAYSIDE: {
    meaning: 'Something answers at the address of the service that is not Quayside.',
    remedy: 'End that program, or set `api.port`.',
  },
  NOT_RUNNING: {
    meaning: 'The service does not answer.',
    remedy: 'Start it with `quayside start`.',
  },
  NO_SHOOT: {
    meaning: 'There is no shoot to show.',
    remedy: 'Name one that `quayside shoots` lists.',
  },
  PORT_UNUSABLE: {
    meaning: 'The API cannot listen on its port.',
    remedy: 'End the program that uses it, or set `api.port`.',
  },
  REDIS_CONFIG_HIDDEN: {
    meaning: 'Redis does not let its configuration be read, so whether it is safe is not known.',
    remedy: 'See with whoever runs it that it evicts nothing and keeps its data.',
  },
  REDIS_DID_NOT_START: {
    meaning: 'Redis ended at its start or did not answer.',
    remedy: 'See its log, which the message names.',
  },
  REDIS_EVICTS: {
    meaning: 'Redis is set to drop keys when its memory is full.',
    remedy: 'Set its maxmemory-policy to noeviction.',
  },
  REDIS_FOLDER_IN_USE: {
    meaning: "Another service uses the folder of Redis' data.",
    remedy: 'Stop that one first.',
  },
  REDIS_FOLDER_UNSAFE: {
    meaning: "The folder of Redis' socket may be entered by others.",
    remedy: 'Remove it, or choose a data folder with a shorter path.',
  },
  REBUILD_LOST: {
    meaning: 'Redis lost its data while the view was being held against the records.',
    remedy: 'Ask again in a minute; the service remakes all of it by itself meanwhile.',
  },
  REDIS_MISSING: {
    meaning: 'There is no redis-server or valkey-server.',
    remedy: 'Install one, or set `redis.url`.',
  },
  REDIS_NOT_PERSISTENT: {
    meaning: 'Redis forgets everything when it ends.',
    remedy: 'Turn on its append-only file; until then a restart reads everything again.',
  },
  REDIS_REFUSED: {
    meaning: 'Redis answers but refuses a command.',
    remedy: 'See what it says: its disk or memory may be full, or rights missing.',
  },
  REDIS_TOO_OLD: {
    meaning: 'Redis is of a version that cannot be used.',
    remedy: 'Install a newer one.',
  },
  REDIS_UNREACHABLE: {
    meaning: 'Redis does not answer.',
    remedy: 'See that it runs; the service tries again by itself.',
  },
  RETRY_UNKNOWN: {
    meaning: 'What should be tried again is no roll, no shoot and no run that the service knows.',
    remedy: 'Name one as `quayside status`, `quayside shoots` or the log shows it.',
  },
  RUN_FILTERED: {
    meaning: 'A run was to be tried again in one step or at one destination, which its id says already.',
    remedy: 'Name the run alone, or its roll with the filter.',
  },
  SUPERVISOR_GONE: {
    meaning: 'The service ended while one of its processes started.',
    remedy: 'Start the service again.',
  },
  TOKENS_DAMAGED: {
    meaning: 'The file of the tokens that were made holds something else.',
    remedy: 'Put it right, or remove it and make the tokens anew.',
  },
  TOKEN_DAMAGED: {
    meaning: 'The file of the API token holds something else.',
    remedy: 'Remove it and start again; a new one is made.',
  },
  TOKEN_UNREADABLE: {
    meaning: 'The file of the API token cannot be read.',
    remedy: 'Run the command as the user that runs the service.',
  },
  USAGE: {
    meaning: 'A process was started without what it needs.',
    remedy: 'Start it with `quayside start`.',
  },
} as const satisfies Codes;
