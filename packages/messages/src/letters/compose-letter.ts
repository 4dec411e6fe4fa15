import type { Message } from '../message.ts';
import type { Letter } from './letter.ts';
import { plainLine } from './plain-line.ts';
import { titleOf } from './titles.ts';

export interface ToCompose {
  readonly id: string;
  /** One, or several that were gathered; at least one. */
  readonly messages: readonly Message[];
  /** IANA name of the zone that times are shown in. */
  readonly timeZone: string;
}

/** Puts messages into words, as plain text and as HTML: the gravest first, then the oldest. */
export function composeLetter({ id, messages, timeZone }: ToCompose): Letter {
  const ordered = messages.toSorted((one, other) => GRAVITY[other.severity] - GRAVITY[one.severity]);
  const clock = clockOf(timeZone);
  const parts = ordered.map((message) => ({
    title: plainLine(titleOf(message)),
    sentence: plainLine(message.sentence),
    where: [message.severity, message.shootId ?? '', clock(message.at)].filter((part) => part !== '').join(' · '),
  }));
  const subject = subjectOf(parts.map(({ title }) => title));
  return {
    id,
    at:
      messages
        .map(({ at }) => at)
        .toSorted()
        .at(-1) ?? '',
    messages: [...ordered],
    subject,
    text: `${parts.map(({ title, sentence, where }) => `${title}\n${sentence}\n(${where})\n`).join('\n')}\n${FOOT}\n${id}\n`,
    html: page(
      { subject, id },
      parts.map(
        ({ title, sentence, where }) =>
          `<h2 style="font-size:1.1em;margin:1.2em 0 .3em">${escaped(title)}</h2>\n<p style="margin:0">${escaped(sentence)}</p>\n<p style="margin:.2em 0 0;font-size:.85em">${escaped(where)}</p>`,
      ),
    ),
  };
}

function subjectOf(titles: readonly string[]): string {
  const [first = '', ...rest] = titles;
  return rest.length === 0 ? first : `${first}, and ${rest.length} more`;
}

/** No colours, no images: it reads the same on a dark screen, on a wall and in a terminal. */
function page({ subject, id }: { readonly subject: string; readonly id: string }, parts: readonly string[]): string {
  return `<!doctype html>
<html lang="en">
<head><meta charset="utf-8"><title>${escaped(subject)}</title></head>
<body style="font-family:sans-serif;line-height:1.4;max-width:40em">
${parts.join('\n')}
<p style="margin:2em 0 0;font-size:.85em">${escaped(FOOT)} ${escaped(id)}</p>
</body>
</html>
`;
}

const FOOT = 'Sent by Quayside. A message tells of a moment: what counts is the verdict that the service shows now.';

function escaped(text: string): string {
  return text.replaceAll(/[&<>"']/g, (sign) => `&#${sign.codePointAt(0)};`);
}

function clockOf(timeZone: string): (at: string) => string {
  const format = new Intl.DateTimeFormat('sv-SE', {
    timeZone,
    dateStyle: 'short',
    timeStyle: 'medium',
  });
  return (at) => `${format.format(Date.parse(at))} ${timeZone}`;
}

const GRAVITY = { info: 0, warning: 1, critical: 2 } as const;
