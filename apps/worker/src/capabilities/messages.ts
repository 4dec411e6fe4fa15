import type { Messages } from '@quayside/step-sdk/built-in';
import type { Messenger } from '../messages/start-messenger.ts';

export interface MessagesParts {
  readonly log: (sentence: string, about: object) => void;
  /** Null when the configuration has no channel. */
  readonly messenger: Pick<Messenger, 'tellVerdict'> | null;
}

/** Tells people through the service's log and its channels; the event stream has told its listeners when the state changed. */
export function makeMessages({ log, messenger }: MessagesParts): Messages {
  return {
    async tell({ severity, subject, sentence, matter }) {
      await messenger?.tellVerdict(subject, { matter, severity, sentence });
      log(sentence, { severity, roll: subject });
    },
  };
}
