import type { PicturedRun } from '../../shoot-picture.ts';
import { html, type Html } from '../html.ts';
import { shapeIcon } from '../map/mark.ts';
import { name } from '../names.ts';
import { SEVERITY_WORDS } from '../words.ts';

const GRAVEST_FIRST = ['critical', 'warning', 'info'] as const;

/** What runs of a step found, the gravest first. Null when they found nothing. */
export function foundByRuns(runs: readonly PicturedRun[]): Html | null {
  const all = runs.flatMap(({ findings }) => findings);
  if (all.length === 0) return null;
  const sorted = GRAVEST_FIRST.flatMap((severity) => all.filter((finding) => finding.severity === severity));
  return html`<ul class="findings found">
    ${sorted.map(
      ({ severity, why, remedy, code }) =>
        html`<li class="finding-of-run ${severity}">
          ${shapeIcon(severity)} ${SEVERITY_WORDS[severity]}: ${name(why)} ${name(remedy)}
          <span class="code">${name(code)}</span>
        </li>`,
    )}
  </ul>`;
}
