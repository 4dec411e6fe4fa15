import type { ServiceEvent } from '@quayside/api-client';
import type { JSX } from 'preact';
import { useState } from 'preact/hooks';
import { showTime } from '../words/show-moment.ts';

const SHOWN = 12;

/** What happened lately, the newest first, in the sentences of the service. */
export function MessagesView({ messages }: { readonly messages: readonly ServiceEvent[] }): JSX.Element {
  const [isWhole, showWhole] = useState(false);
  const shown = isWhole ? messages : messages.slice(0, SHOWN);
  return (
    <section class="panel" aria-labelledby="messages">
      <h2 id="messages">
        Messages <span class="count">what was, not what is</span>
      </h2>
      {shown.length === 0 ? <p class="quiet">Nothing has happened in the last hours.</p> : null}
      <ol class="messages">
        {shown.map((event) => (
          <li key={event.id}>
            <time dateTime={event.at}>{showTime(event.at)}</time> <bdi>{event.sentence}</bdi>
          </li>
        ))}
      </ol>
      {messages.length > shown.length ? (
        <button type="button" onClick={() => showWhole(true)}>
          Show {messages.length - shown.length} more
        </button>
      ) : null}
    </section>
  );
}
