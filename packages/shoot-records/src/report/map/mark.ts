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

/** Marks side by side from an edge, as many as fit into a width; the rest is counted in words. Gives the width they took. */
export function drawMarks(
  findings: readonly NumberedFinding[],
  edge: { readonly x: number; readonly y: number; readonly width: number; readonly side: 'left' | 'right' },
): { readonly marks: readonly Html[]; readonly width: number } {
  const marks: Html[] = [];
  let used = 0;
  for (const [at, finding] of findings.entries()) {
    const width = markWidth(String(finding.number));
    const left = findings.length - at;
    const more = `+${left}`;
    if (used + width > edge.width - (left > 1 ? 8 * more.length : 0) && at > 0) {
      const x = edge.side === 'left' ? edge.x + used + 2 : edge.x - used - 8 * more.length;
      marks.push(html`<text class="more" x="${x}" y="${edge.y + 4}">${more}</text>`);
      return { marks, width: used + 8 * more.length };
    }
    marks.push(drawMark(finding, { x: edge.side === 'left' ? edge.x + used : edge.x - used - width, y: edge.y }));
    used += width + 3;
  }
  return { marks, width: used };
}
