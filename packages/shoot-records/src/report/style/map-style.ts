import { fixedText, type Html } from '../html.ts';

/** The map: what is said by colour is said by shape and in words as well. */
export const MAP_STYLE: Html = fixedText`
.map-part { margin: 0 0 22px; }
.map-part figcaption { font-weight: 600; margin: 0 0 4px; }
.map { display: block; width: 100%; min-width: calc(var(--map-width) * 0.75); font-size: 12px; fill: var(--ink); }
.map text { font-family: system-ui, -apple-system, "Segoe UI", "Noto Sans", "DejaVu Sans", sans-serif; }
.map .band { fill: var(--band); stroke: var(--line); }
.map .heading { font-size: 13px; font-weight: 700; }
.map .start, .map .time { font-variant-numeric: tabular-nums; }
.map .start { font-size: 12px; }
.map .state { fill: none; stroke: var(--ink); stroke-width: 2; }
.map .state-word { font-size: 11.5px; text-anchor: end; }
.map .lane { fill: none; stroke: var(--line); }
.map .recorder { font-size: 13.5px; font-weight: 600; }
.map .axis, .map .tick { fill: none; stroke: var(--ink); }
.map .grid { fill: none; stroke: var(--line); stroke-dasharray: 1 3; }
.map .break { fill: none; stroke: var(--ink); stroke-width: 1.5; }
.map .time, .map .pause { font-size: 11.5px; fill: var(--quiet); }
.map .pause { text-anchor: middle; }
.map .bar { stroke-width: 1.5; }
.map .bar.camera { fill: var(--camera); stroke: var(--camera-edge); }
.map .bar.program { fill: var(--program); stroke: var(--program-edge); }
.map .bar.sound { fill: var(--sound); stroke: var(--sound-edge); }
.map .bar.likely { stroke-dasharray: 7 3; }
.map .bar.weak { stroke-dasharray: 1.5 3; stroke-width: 2; }
.map .label { font-size: 11px; }
.map .nothing { fill: none; stroke: var(--edge); stroke-dasharray: 4 4; }
.map .none { font-size: 11.5px; fill: var(--quiet); font-style: italic; }
.map .block { stroke: var(--camera-edge); stroke-width: 1.5; fill: none; }
.map .block.editable { fill: var(--camera); }
.map .block.waiting { stroke-dasharray: 3 2; }
.map .block-number { font-size: 11px; text-anchor: middle; }
.mark .tag { fill: var(--tag); stroke: currentcolor; stroke-width: 1.5; }
.mark.seen .tag { stroke-dasharray: 3 2; }
.mark .shape, .icon .shape { fill: currentcolor; stroke: none; }
.mark .number { font-size: 12px; font-weight: 700; fill: currentcolor; }
.mark.critical, .icon.critical { color: var(--critical); }
.mark.warning, .icon.warning { color: var(--warning); }
.mark.info, .icon.info { color: var(--info); }
.map .more { font-size: 12px; font-weight: 700; }
`;
