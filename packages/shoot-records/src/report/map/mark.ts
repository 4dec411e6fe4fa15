import type { Severity } from '@quayside/shoot';
import type { NumberedFinding } from '../../findings-at.ts';
import { html, type Html } from '../html.ts';

const MARK_HEIGHT = 17;

/** How wide the mark of a finding is. */
export function markWidth(text: string): number {
  return 20 + 8 * text.length;
}

/** A finding's mark: the shape of its severity and its number. `x` and `y` are its left edge and its middle. */
export function drawMark(finding: NumberedFinding, at: { readonly x: number; readonly y: number }): Html {
  const text = String(finding.number);
  const seen = finding.acknowledged === null ? '' : ' seen';
  return html`<g class="mark ${finding.severity}${seen}">
    <rect
      class="tag"
      x="${at.x}"
      y="${at.y - MARK_HEIGHT / 2}"
      width="${markWidth(text)}"
      height="${MARK_HEIGHT}"
      rx="3"
    />
    ${drawShape(finding.severity, { x: at.x + 9, y: at.y })}
    <text class="number" x="${at.x + 16.5}" y="${at.y + 4}">${text}</text>
  </g>`;
}

/** The shape alone: a diamond is critical, a triangle a warning, a circle a note. */
export function drawShape(severity: Severity, { x, y }: { readonly x: number; readonly y: number }): Html {
  if (severity === 'critical') return html`<path class="shape" d="M${x} ${y - 6}l6 6l-6 6l-6 -6z" />`;
  if (severity === 'warning') return html`<path class="shape" d="M${x} ${y - 5.5}l6 10.5h-12z" />`;
  return html`<circle class="shape" cx="${x}" cy="${y}" r="5" />`;
}

/** The shape as a picture of its own, for the lists; the words beside it say the same. */
export function shapeIcon(severity: Severity): Html {
  return html`<svg class="icon ${severity}" viewBox="0 0 14 14" width="14" height="14" aria-hidden="true">
    ${drawShape(severity, { x: 7, y: 7 })}
  </svg>`;
}

/**
 * Marks side by side at an edge, in the order of their numbers, as many as fit into a width; the rest is counted. Gives the
 * width that they take.
 */
export function drawMarks(
  findings: readonly NumberedFinding[],
  edge: { readonly x: number; readonly y: number; readonly width: number; readonly side: 'left' | 'right' },
): { readonly marks: readonly Html[]; readonly width: number } {
  const shown = howMany(findings, edge.width);
  const more = shown < findings.length ? `+${findings.length - shown}` : '';
  const widths = findings.slice(0, shown).map((finding) => markWidth(String(finding.number)) + SPACE);
  const width = widths.reduce((sum, one) => sum + one, 0) + MORE_CHARACTER * more.length;
  let x = edge.side === 'left' ? edge.x : edge.x - width + (more === '' ? SPACE : 0);
  const marks = widths.map((own, at) => {
    const finding = findings[at];
    x += own;
    return finding === undefined ? null : drawMark(finding, { x: x - own, y: edge.y });
  });
  const rest = more === '' ? null : html`<text class="more" x="${x}" y="${edge.y + 4}">${more}</text>`;
  return { marks: [...marks, rest].filter((one) => one !== null), width };
}

const SPACE = 3;
const MORE_CHARACTER = 8;

/** One at least, however narrow it is. */
function howMany(findings: readonly NumberedFinding[], room: number): number {
  let used = 0;
  for (const [at, finding] of findings.entries()) {
    used += markWidth(String(finding.number)) + SPACE;
    const left = findings.length - at - 1;
    if (at > 0 && used + (left > 0 ? MORE_CHARACTER * `+${left}`.length : 0) > room) return at;
  }
  return findings.length;
}
