import { RECORD_NAMES } from '../record-names.ts';
import type { ShootView } from '../shoot-view.ts';
import { caution } from './caution.ts';
import { editList } from './edit-list.ts';
import { findingsList } from './findings-list.ts';
import { groupsTable } from './groups-table.ts';
import { guestsSections } from './guests/guests-sections.ts';
import { html, type Html } from './html.ts';
import { legend } from './legend.ts';
import { shootMap } from './map/shoot-map.ts';
import { name } from './names.ts';
import { proxiesSection } from './proxies-section.ts';
import { showText } from './show-text.ts';
import { MAP_STYLE } from './style/map-style.ts';
import { PAGE_STYLE } from './style/page-style.ts';
import { PALETTE } from './style/palette.ts';
import { PRINT_STYLE } from './style/print-style.ts';
import { summary } from './summary.ts';
import { ungroupedSection } from './ungrouped-table.ts';
import { showInstant } from './words.ts';

/**
 * The report of a shoot as one page: no script, nothing fetched but the pictures that lie beside it, all markup of our own making.
 * Its own policy forbids the rest, should a name ever get through.
 */
export function reportPage(view: ShootView): string {
  const madeAt = showInstant(view.madeAt);
  const title = showText(view.shoot.name);
  return html`<!doctype html>
    <html lang="en">
      <head>
        <meta charset="utf-8" />
        <meta
          http-equiv="Content-Security-Policy"
          content="default-src 'none'; style-src 'unsafe-inline'; img-src 'self' file:; base-uri 'none'; form-action 'none'"
        />
        <meta name="viewport" content="width=device-width, initial-scale=1" />
        <meta name="color-scheme" content="light dark" />
        <meta name="referrer" content="no-referrer" />
        <title>${title}: sync groups and findings</title>
        <style>
          ${PALETTE}${PAGE_STYLE}${MAP_STYLE}${PRINT_STYLE}
        </style>
      </head>
      <body>
        <header>
          <p class="eyebrow">Records of a shoot</p>
          <h1>${name(view.shoot.name)}</h1>
          <p class="quiet">Shoot ${name(view.shoot.id)}, made on ${madeAt}</p>
        </header>
        <main>
          ${summary(view)} ${caution(madeAt)} ${section('edit', 'What can be edited', editList(view))}
          ${section('map', 'Map of the shoot', html`${shootMap(view)}${view.groups.length > 0 ? legend() : null}`)}
          ${section('findings', 'Findings', findingsList(view))}
          ${view.groups.length === 0 ? null : section('groups', 'Groups and their clips', groupsTable(view))}
          ${ungroupedSection(view)} ${guestsSections(view)} ${proxiesSection(view.proxies, view.clips)}
          ${section('files', 'The files beside this page', files())}
        </main>
      </body>
    </html> `.toString();
}

function section(id: string, heading: string, content: Html | null): Html {
  return html`<section aria-labelledby="${id}">
    <h2 id="${id}">${heading}</h2>
    ${content}
  </section>`;
}

function files(): Html {
  return html`<ul>
    <li>
      <a href="${RECORD_NAMES.shootTimeline}">${RECORD_NAMES.shootTimeline}</a>: the whole shoot as a timeline
      (OpenTimelineIO); each group has one of its own, linked above
    </li>
    <li>
      <a href="${RECORD_NAMES.groupsCsv}">${RECORD_NAMES.groupsCsv}</a> and
      <a href="${RECORD_NAMES.findingsCsv}">${RECORD_NAMES.findingsCsv}</a>: the same as tables for a spreadsheet
    </li>
    <li><a href="${RECORD_NAMES.json}">${RECORD_NAMES.json}</a>: the same for programs</li>
  </ul>`;
}
