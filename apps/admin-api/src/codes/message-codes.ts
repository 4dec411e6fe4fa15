import type { Codes } from './code-entry.ts';

/** About messages to people and the channels that they go by. */
export const MESSAGE_CODES = {
  CERTIFICATE_UNREADABLE: {
    meaning: 'The certificate that a mail server is trusted by cannot be read.',
    remedy: 'Correct `certificate` of that channel, or the rights of the file.',
  },
  CHANNEL_REFUSED: {
    meaning: 'The other end of a channel did not take a message.',
    remedy: 'See what it says about it; the message is tried again for eighteen hours.',
  },
  CHANNEL_UNREACHABLE: {
    meaning: 'The other end of a channel does not answer.',
    remedy: 'See that it runs and can be reached from here; the message is tried again for eighteen hours.',
  },
  MESSAGE_GIVEN_UP: {
    meaning: 'A channel could not send a message for eighteen hours, or could never send it, and has sent none since.',
    remedy: 'See to the channel and test it; read what was not told under the deliveries that are given up.',
  },
  COMMAND_FAILED: {
    meaning: 'The program of a channel failed, or did not end in its time.',
    remedy: 'Run it by hand to see what is amiss.',
  },
  MESSAGE_OUTDATED: {
    meaning: 'A message says that a drive may be recorded over, and that is not so at this moment.',
    remedy: 'Nothing to do; it is sent when it is so again, or never.',
  },
  SECRET_MISSING: {
    meaning: 'The secret of a channel is not where the configuration says.',
    remedy: 'Put it there; a file is read anew at the next try, a variable at the next start.',
  },
  WEBHOOK_SECRET_BAD: {
    meaning: 'The secret of a webhook is not base64 of 24 to 64 bytes.',
    remedy: 'Make one as the message says, and give it to the receiver too.',
  },
} as const satisfies Codes;
