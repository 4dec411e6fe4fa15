import { fixedText, type Html } from '../html.ts';

/**
 * The colours, as pairs of ink and ground that keep 4.5:1 for text and 3:1 for shapes (WCAG 2.2, 1.4.3 and 1.4.11). Paper gets the
 * light ones whatever the screen shows; a forced palette takes the system's.
 */
export const PALETTE: Html = fixedText`
:root {
  --paper: #fcfbf8; --ink: #17202b; --quiet: #4d5966; --line: #c3c8ce; --edge: #7d8894; --band: #f0f1ee; --accent: #0f5273;
  --camera: #d3e3ee; --camera-edge: #2c5f80; --program: #e5deef; --program-edge: #64498c; --sound: #dcead2; --sound-edge: #3f6f2f;
  --critical: #a3122b; --warning: #8a4b00; --info: #2b5c86; --tag: #fff; --warm: #fff4dc; --warm-edge: #a66a00;
}
@media screen and (prefers-color-scheme: dark) {
  :root {
    --paper: #12171d; --ink: #e9ebee; --quiet: #aab4bf; --line: #3a444f; --edge: #8b97a4; --band: #1b222a; --accent: #8cc8e8;
    --camera: #203d50; --camera-edge: #7fb4d4; --program: #3a2f50; --program-edge: #b7a0df; --sound: #26401f; --sound-edge: #93c57f;
    --critical: #ff8c98; --warning: #f2b35c; --info: #93c3ea; --tag: #0b0f13; --warm: #2c2413; --warm-edge: #d29a3a;
  }
}
@media (prefers-contrast: more) {
  :root { --quiet: var(--ink); --line: var(--ink); --edge: var(--ink); }
}
@media (forced-colors: active) {
  :root {
    --paper: Canvas; --ink: CanvasText; --quiet: CanvasText; --line: CanvasText; --edge: CanvasText; --band: Canvas; --accent: LinkText;
    --camera: Canvas; --camera-edge: CanvasText; --program: Canvas; --program-edge: CanvasText; --sound: Canvas; --sound-edge: CanvasText;
    --critical: CanvasText; --warning: CanvasText; --info: CanvasText; --tag: Canvas; --warm: Canvas; --warm-edge: CanvasText;
  }
}
`;
