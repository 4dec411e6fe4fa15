import type { NumberedFinding } from '../findings-at.ts';
import { html, type Html } from './html.ts';
import { shapeIcon } from './map/mark.ts';
import { SEVERITY_WORDS } from './words.ts';

/** Findings by shape, severity and number, each a link to its place in the list; `none` in words when there are none. */
export function findingLinks(findings: readonly NumberedFinding[]): Html {
  if (findings.length === 0) return html`none`;
  return html`${findings.map(
    ({ number, severity }) => html`
      <a class="finding-link" href="#finding-${number}">${shapeIcon(severity)}${SEVERITY_WORDS[severity]} ${number}</a>
    `,
  )}`;
}
