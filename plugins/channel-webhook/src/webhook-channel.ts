import { WebhookSettings } from '@quayside/messages';
import { QuaysideError } from '@quayside/shoot';
import { defineChannel } from '@quayside/channel-contract';
import { signWebhook } from './sign-webhook.ts';
import { webhookBody } from './webhook-body.ts';

/** Posts each letter to an HTTP address, signed after Standard Webhooks 1.0.0. Only an answer 2xx counts; links are not followed. */
export const webhookChannel = defineChannel({
  kind: 'webhook',
  settings: WebhookSettings,
  async send({ letter, settings, context }) {
    const body = webhookBody(letter);
    const timestamp = Math.floor(Date.now() / 1000);
    const secret = await context.secret(settings.secret);
    const stop = new AbortController();
    context.onStop(() => stop.abort());
    const answer = await post(settings, {
      signal: stop.signal,
      body,
      headers: {
        'content-type': 'application/json',
        'user-agent': 'Quayside',
        'idempotency-key': letter.id,
        'webhook-id': letter.id,
        'webhook-timestamp': String(timestamp),
        'webhook-signature': signWebhook(secret, { id: letter.id, timestamp, body }),
      },
    });
    // What it says is of no account, and may be long.
    await answer.body?.cancel();
    if (!answer.ok) throw refused(settings, answer.status);
  },
});

async function post(
  { url, timeoutSeconds }: WebhookSettings,
  {
    signal,
    ...init
  }: { readonly signal: AbortSignal; readonly body: string; readonly headers: Record<string, string> },
): Promise<Response> {
  const limit = AbortSignal.timeout(timeoutSeconds * 1000);
  try {
    return await fetch(url, { method: 'POST', redirect: 'manual', ...init, signal: AbortSignal.any([signal, limit]) });
  } catch (error) {
    const why = limit.aborted ? `it gave no answer within ${timeoutSeconds} s` : reasonOf(error);
    throw new QuaysideError(
      {
        code: 'CHANNEL_UNREACHABLE',
        sentence: `Nothing could be delivered to ${new URL(url).origin}: ${why}. See that it runs and can be reached from here.`,
        retry: 'later',
      },
      { cause: error },
    );
  }
}

/** What the network said, without the address, which may hold what is secret. */
function reasonOf(error: unknown): string {
  const cause = error instanceof Error ? error.cause : undefined;
  return cause instanceof Error && 'code' in cause ? String(cause.code) : 'the connection failed';
}

function refused({ url }: WebhookSettings, status: number): QuaysideError {
  const isGone = status === 410;
  return new QuaysideError({
    code: 'CHANNEL_REFUSED',
    sentence: `${new URL(url).origin} answered with status ${status}, so the message does not count as delivered. ${isGone ? 'It wants no more; take the channel out of the configuration.' : 'See what it says about it.'}`,
    retry: isGone ? 'never' : 'later',
  });
}
