import { type Rational, subtractRationals, addRationals } from '@quayside/timecode';
import type { Severity } from '@quayside/shoot';
import type { ShootView } from '../shoot-view.ts';
import { html, type Html } from './html.ts';
import { shapeIcon } from './map/mark.ts';
import { counted, showSeconds } from './words.ts';

const NOUNS: Readonly<Record<Severity, string>> = { critical: 'critical', warning: 'warning', info: 'note' };

/** The shoot in a few numbers: what there is, what can be edited, what was found. */
export function summary(view: ShootView): Html {
  const { groups, recorders, findings } = view;
  const ready = groups.filter(({ group }) => group.edit.state === 'editable').length;
  const days = new Set(groups.map(({ group }) => group.day.date)).size;
  const clipCount = new Set(groups.flatMap(({ group }) => group.members.map((member) => member.clipId))).size;
  return html`<dl class="summary">
    <div>
      <dt>Sync groups</dt>
      <dd>${groups.length}${days > 1 ? ` on ${days} days` : ''}</dd>
    </div>
    <div>
      <dt>Clips in them</dt>
      <dd>${clipCount}</dd>
    </div>
    <div>
      <dt>Recorders</dt>
      <dd>${recorders.length}</dd>
    </div>
    <div>
      <dt>Time recorded</dt>
      <dd>${showSeconds(timeOf(view))}</dd>
    </div>
    <div>
      <dt>Can be edited now</dt>
      <dd>${groups.length === 0 ? 'nothing yet' : `${ready} of ${groups.length}`}</dd>
    </div>
    <div>
      <dt>Found</dt>
      <dd>${findings.all.length === 0 ? 'nothing' : countFound(view)}</dd>
    </div>
  </dl>`;
}

function timeOf({ groups }: ShootView): Rational {
  return groups.reduce<Rational>((sum, { start, end }) => addRationals(sum, subtractRationals(end, start)), {
    numerator: 0,
    denominator: 1,
  });
}

function countFound({ findings }: ShootView): readonly Html[] {
  return (['critical', 'warning', 'info'] as const).flatMap((severity) => {
    const count = findings.all.filter((finding) => finding.severity === severity).length;
    return count === 0
      ? []
      : [
          html`<span class="count"
            >${shapeIcon(severity)}
            ${severity === 'critical' ? `${count} ${NOUNS[severity]}` : counted(count, NOUNS[severity])}</span
          > `,
        ];
  });
}
