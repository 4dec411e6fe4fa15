import { html, type Html } from './html.ts';

/** What must stand beside every picture of footage: that it is no permission to record over it. */
export function caution(madeAt: string): Html {
  return html`<section class="caution" aria-labelledby="caution">
    <h2 id="caution">Before you record over a drive</h2>
    <ul>
      <li>
        <strong>Check the verdict</strong> of that drive, each time, at the moment you want to record on it. This page
        was made on ${madeAt} and is no verdict.
      </li>
      <li><strong>Keep two copies</strong> at least, on separate devices.</li>
      <li><strong>Never format or record over a drive on hold.</strong></li>
    </ul>
  </section>`;
}
