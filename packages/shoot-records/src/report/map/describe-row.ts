import { subtractRationals } from '@quayside/timecode';
import type { ShootView } from '../../shoot-view.ts';
import { counted, SEVERITY_WORDS, showSeconds } from '../words.ts';
import type { MapRow, Panel } from './lay-map.ts';

/** What a row of the map shows, in sentences, for those who do not see it. */
export function describeRow(row: MapRow, view: ShootView): string {
  return row.panels.map((panel) => describePanel(panel, view)).join(' ');
}

function describePanel({ placed: { group, number, start, end } }: Panel, { findings }: ShootView): string {
  const recorders = [...new Set(group.members.map((member) => member.recorder))].join(', ');
  const state = group.edit.state === 'editable' ? 'can be edited now' : 'cannot be edited yet';
  const found = findings
    .ofGroup(group.id)
    .map((finding) => `${SEVERITY_WORDS[finding.severity].toLowerCase()} ${finding.number}`);
  return [
    `Group ${number} from ${group.start.timecode}, ${showSeconds(subtractRationals(end, start))}:`,
    `${counted(group.members.length, 'clip')} of ${recorders}; ${state}${found.length > 0 ? `; ${found.join(', ')}` : ''}.`,
  ].join(' ');
}
