import { html, type Html } from './html.ts';
import { shapeIcon } from './map/mark.ts';

/** How the map is read. Everything it shows by shape or colour stands in the tables in words. */
export function legend(): Html {
  return html`<ul class="legend">
    <li>
      A row is a recorder, a band a group, a bar a clip. Time runs evenly from left to right within a group; groups are
      not drawn to one scale. Between two groups stands how long nothing ran.
    </li>
    <li>
      The numbers under a band are its timecode. A group that can be edited now is marked <b>ready</b> with a tick; any
      other <b>wait</b> with a ring.
    </li>
    <li>
      A finding stands at its recorder and group with its number: ${shapeIcon('critical')} diamond, critical;
      ${shapeIcon('warning')} triangle, warning; ${shapeIcon('info')} circle, note. A dashed frame has been seen by a
      person. Beside a recorder’s name it concerns more of its groups.
    </li>
    <li>
      A dashed bar with ≈ is a place that is likely; a dotted one with ? is weak and must be checked. A dashed box
      without a bar says that the recorder has no clip there.
    </li>
  </ul>`;
}
