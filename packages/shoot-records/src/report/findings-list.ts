import type { NumberedFinding } from '../findings-at.ts';
import type { ShootView } from '../shoot-view.ts';
import { html, type Html } from './html.ts';
import { shapeIcon } from './map/mark.ts';
import { fileName, groupLink, name } from './names.ts';
import { SEVERITY_WORDS, showInstant, titleOfCode } from './words.ts';

/** A finding about more clips or groups than this names the first ones; the tables have all. */
const MOST_NAMED = 6;

/** All findings, the gravest first, each with its number, severity, place, reason and remedy. */
export function findingsList(view: ShootView): Html {
  const { all } = view.findings;
  if (all.length === 0) return html`<p>Nothing was found that a person must know of.</p>`;
  return html`<ol class="findings">
    ${all.map((finding) => findingItem(finding, view))}
  </ol>`;
}

function findingItem(finding: NumberedFinding, view: ShootView): Html {
  const { number, severity, code, why, remedy } = finding;
  return html`<li id="finding-${number}" class="finding ${severity}" value="${number}">
    <h3>
      <span class="tagged">${shapeIcon(severity)} ${number}</span> ${SEVERITY_WORDS[severity]}: ${titleOfCode(code)}
    </h3>
    <p>${name(why)}</p>
    <p><span class="term">What to do:</span> ${name(remedy)}</p>
    <p class="where"><span class="term">Where:</span> ${where(finding, view)}. <span class="code">${code}</span></p>
    ${acknowledgement(finding)}
  </li>`;
}

function where(finding: NumberedFinding, view: ShootView): Html {
  const touched = new Set(view.findings.groupsOf(finding.number));
  const groups = view.groups.filter(({ group }) => touched.has(group.id));
  const paths = finding.clipIds.map((clipId) => view.clips.find(clipId)?.path ?? clipId);
  const parts = [
    ...(finding.recorder === null ? [] : [name(finding.recorder)]),
    ...few(groups.map(groupLink), 'more groups'),
    ...few(paths.map(fileName), 'more clips, see findings.csv'),
  ];
  if (parts.length === 0) return html`the whole shoot`;
  return html`${parts.map((part, at) => html`${at > 0 ? '; ' : null}${part}`)}`;
}

function few(parts: readonly Html[], rest: string): readonly Html[] {
  if (parts.length <= MOST_NAMED) return parts;
  return [...parts.slice(0, MOST_NAMED - 1), html`${parts.length - MOST_NAMED + 1} ${rest}`];
}

function acknowledgement({ acknowledged }: NumberedFinding): Html | null {
  if (acknowledged === null) return null;
  const { by, at, note } = acknowledged;
  return html`<p class="seen">
    <span class="term">Seen</span> by ${name(by)} on ${showInstant(at)}${note === '' ? '.' : html`: ${name(note)}`}
  </p>`;
}
