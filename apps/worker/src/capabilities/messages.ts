import type { Messages } from '@quayside/step-sdk/built-in';

/** Tells people through the service's log; the event stream has told its listeners when the state changed. */
export function makeMessages(log: (sentence: string, about: object) => void): Messages {
  return {
    async tell({ severity, subject, sentence }) {
      log(sentence, { severity, roll: subject });
    },
  };
}
