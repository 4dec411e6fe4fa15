import type { StandardSchemaV1 } from '@standard-schema/spec';
import type { Letter } from '@quayside/messages';
import { QuaysideError } from '@quayside/shoot';

/** Where a secret is found, as the configuration says it. */
export interface SecretPlace {
  readonly env?: string | undefined;
  readonly file?: string | undefined;
}

/** What a channel gets beside its settings and the letter. */
export interface ChannelContext {
  /** Aborted when the service stops: stop soon, the letter is sent again at the next start. */
  readonly signal: { readonly aborted: boolean };
  /** Calls `stop` once when the signal aborts, at once when it has. */
  readonly onStop: (stop: () => void) => void;
  /** The secret at a place, without the white space around it. @throws QuaysideError `SECRET_MISSING` */
  readonly secret: (place: SecretPlace) => Promise<string>;
  /** The environment for programs that a channel starts: of the service's own only what cannot hold a secret. */
  readonly environment: Readonly<Record<string, string>>;
}

/**
 * A way for letters to reach people. `send` settles when the letter has been taken over, and may be called again with the
 * same letter: after a crash nobody knows whether it arrived, so the letter's id goes along for the receiver to tell.
 */
export interface Channel<Settings extends StandardSchemaV1 = StandardSchemaV1> {
  readonly kind: string;
  readonly settings: Settings;
  /**
   * Sends one letter within its own time limit. What it throws is shown to people.
   * @throws QuaysideError `retry: 'never'` when no later try can help, else it is tried again
   */
  send(job: {
    readonly letter: Letter;
    readonly settings: StandardSchemaV1.InferOutput<Settings>;
    readonly context: ChannelContext;
  }): Promise<void>;
}

/** States a channel. Its use is that the types inside `send` follow from the settings' schema. */
export function defineChannel<Settings extends StandardSchemaV1>(channel: Channel<Settings>): Channel<Settings> {
  return channel;
}

/** Sends a letter by a channel on settings of unknown shape. @throws QuaysideError `BAD_CONFIG`, and what the channel throws */
export async function sendLetter(
  channel: Channel,
  raw: { readonly settings: unknown; readonly letter: Letter },
  context: ChannelContext,
): Promise<void> {
  const settings = await parse(channel, raw.settings);
  await channel.send({ letter: raw.letter, settings, context });
}

async function parse({ kind, settings }: Channel, raw: unknown): Promise<unknown> {
  const result = await settings['~standard'].validate(raw);
  if (result.issues === undefined) return result.value;
  const [issue] = result.issues;
  throw new QuaysideError({
    code: 'BAD_CONFIG',
    sentence: `The settings of a channel of kind "${kind}" are not what its schema says: ${issue?.message ?? 'no reason given'}. Correct its configuration.`,
    retry: 'never',
  });
}
