import { html, type Html, type HtmlValue } from '../html.ts';
import { MAP } from './map-measures.ts';

/** One picture of the map, and what a reader who does not see it is told of it: a short name, and what it shows. */
export interface MapPicture {
  readonly id: string;
  readonly caption: string;
  /** What stands behind the caption, less loud. */
  readonly aside: string;
  readonly title: string;
  readonly description: string;
  readonly height: number;
}

/** A picture with its caption; where it does not fit on a narrow screen it can be scrolled, also by the keys. */
export function mapFigure(picture: MapPicture, drawing: HtmlValue): Html {
  const { id, caption, aside, title, description, height } = picture;
  return html`<figure class="map-part">
    <figcaption>${caption} <span class="quiet">${aside}</span></figcaption>
    <div class="scroller" tabindex="0" role="group" aria-label="${title}" style="--map-width: ${MAP.width}px">
      <svg
        class="map"
        viewBox="0 0 ${MAP.width} ${height}"
        role="img"
        aria-labelledby="${id}-title"
        aria-describedby="${id}-text"
      >
        <title id="${id}-title">${title}</title>
        <desc id="${id}-text">${description}</desc>
        ${drawing}
      </svg>
    </div>
  </figure>`;
}
