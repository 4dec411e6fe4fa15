import type { Recorder } from '../../recorders.ts';
import type { ShootView } from '../../shoot-view.ts';
import { html, type Html } from '../html.ts';
import { shortenMiddle } from '../show-text.ts';
import { counted } from '../words.ts';
import { MAP } from './map-measures.ts';
import { mapFigure } from './map-figure.ts';
import { drawMarks } from './mark.ts';

const BOX_WIDTH = 210;

interface Unplaced {
  readonly recorder: Recorder;
  readonly count: number;
}

/** The clips without a place in time, by recorder, with the findings about them; null when there are none. */
export function unplacedFigure(view: ShootView): Html | null {
  const lanes = view.recorders.flatMap((recorder): Unplaced[] => {
    const own = view.ungrouped.filter(({ recorder: of, code }) => of === recorder.name && !HAS_ITS_REASON.has(code));
    return own.length === 0 ? [] : [{ recorder, count: own.length }];
  });
  if (lanes.length === 0) return null;
  return mapFigure(
    {
      id: 'unplaced',
      caption: 'Without a place in time',
      aside: 'in no group',
      title: 'Clips without a place in time',
      description: lanes.map(({ recorder, count }) => `${recorder.name}: ${counted(count, 'clip')}.`).join(' '),
      height: lanes.length * MAP.laneHeight + 2,
    },
    lanes.map((lane, at) => drawUnplaced(lane, at * MAP.laneHeight, view)),
  );
}

/** A file that is no media needs no place, and a copy of a clip has the clip's. */
const HAS_ITS_REASON: ReadonlySet<string> = new Set(['NO_MEDIA', 'EXISTS_TWICE']);

function drawUnplaced({ recorder, count }: Unplaced, y: number, view: ShootView): Html {
  const middle = y + MAP.laneHeight / 2;
  const { marks } = drawMarks(view.findings.ofUngrouped(recorder.name), {
    x: MAP.gutter + BOX_WIDTH + 6,
    y: middle,
    width: MAP.width - MAP.gutter - BOX_WIDTH - 20,
    side: 'left',
  });
  return html`
    <text class="recorder" x="2" y="${middle + 4.5}">${shortenMiddle(recorder.name, 12)}</text>
    <rect class="nothing" x="${MAP.gutter}" y="${y + 4}" width="${BOX_WIDTH}" height="${MAP.barHeight - 2}" />
    <text class="label" x="${MAP.gutter + 6}" y="${middle + 4}">${counted(count, 'clip')}, placed nowhere</text>
    ${marks}
  `;
}
