import { fixedText, type Html } from '../html.ts';

/** The page outside the map. */
export const PAGE_STYLE: Html = fixedText`
* { box-sizing: border-box; }
html { background: var(--paper); color: var(--ink); font: 16px/1.5 system-ui, -apple-system, "Segoe UI", "Noto Sans", "DejaVu Sans", sans-serif; }
body { max-width: 1120px; margin: 0 auto; padding: 28px 32px 64px; }
h1 { font-size: 34px; line-height: 1.15; margin: 0 0 4px; letter-spacing: -0.01em; }
h2 { font-size: 21px; margin: 44px 0 12px; padding-top: 12px; border-top: 3px solid var(--ink); }
h3 { font-size: 16px; margin: 0 0 4px; }
p { margin: 0 0 8px; }
a { color: var(--accent); text-underline-offset: 2px; }
:focus-visible { outline: 3px solid var(--accent); outline-offset: 2px; }
.eyebrow { margin: 0 0 2px; font-weight: 600; color: var(--accent); }
.quiet, figcaption .quiet { color: var(--quiet); font-weight: 400; }
.file, .timecode, .code { font-family: ui-monospace, "Cascadia Mono", "DejaVu Sans Mono", monospace; font-size: 0.9em; overflow-wrap: anywhere; }
.file { white-space: pre-wrap; }
.code { color: var(--quiet); font-size: 0.8em; }
.term { font-weight: 600; }
.icon { vertical-align: -2px; }
.summary { display: grid; grid-template-columns: repeat(auto-fit, minmax(150px, 1fr)); gap: 0; margin: 20px 0 0; border: 1px solid var(--line); border-radius: 4px; }
.summary div { padding: 10px 14px; border-inline-start: 1px solid var(--line); margin-inline-start: -1px; }
.summary dt { color: var(--quiet); font-size: 14px; }
.summary dd { margin: 0; font-size: 19px; font-weight: 600; line-height: 1.3; }
.summary .count { display: block; font-size: 16px; }
.caution { margin: 20px 0 0; padding: 12px 18px; background: var(--warm); border: 2px solid var(--warm-edge); border-radius: 4px; }
.caution h2 { margin: 0 0 6px; padding: 0; border: 0; font-size: 17px; }
.caution ul { margin: 0; padding-inline-start: 20px; }
.waiting .missing { display: block; }
.findings { margin: 0; padding: 0; list-style: none; }
.finding { padding: 10px 0 10px 16px; margin: 0 0 14px; border-inline-start: 5px solid var(--info); }
.finding.critical { border-inline-start: 9px double var(--critical); }
.finding.warning { border-inline-start-color: var(--warning); }
.finding p { max-width: 78ch; margin: 0 0 3px; }
.finding .where, .finding .seen { font-size: 15px; }
.tagged { display: inline-block; margin-inline-end: 4px; padding: 0 6px; border: 1.5px solid currentcolor; border-radius: 3px; }
.critical .tagged { color: var(--critical); } .warning .tagged { color: var(--warning); } .info .tagged { color: var(--info); }
.scroller { overflow-x: auto; }
table { width: 100%; border-collapse: collapse; font-size: 14px; }
caption { text-align: start; padding: 0 0 8px; color: var(--quiet); }
th, td { padding: 5px 10px 5px 0; text-align: start; vertical-align: top; border-bottom: 1px solid var(--line); }
thead th { border-bottom: 2px solid var(--ink); vertical-align: bottom; }
tbody th[scope="row"] { font-weight: 600; white-space: nowrap; }
tbody th[scope="row"] .quiet { display: block; }
tr.group th { padding: 18px 0 5px; border-bottom: 2px solid var(--edge); font-size: 15px; }
td { font-variant-numeric: tabular-nums; }
td.number { white-space: nowrap; }
td .rate { color: var(--quiet); }
th.wide { width: 22%; min-width: 12em; }
th.reason { width: 28%; }
th.part { min-width: 11em; }
td .quiet { display: block; }
.finding-link { display: inline-block; white-space: nowrap; }
.finding-link .icon { margin-inline-end: 4px; }
.finding-of-run { margin: 0 0 4px; max-width: 90ch; }
.finding-of-run.critical .icon { color: var(--critical); } .finding-of-run.warning .icon { color: var(--warning); } .finding-of-run.info .icon { color: var(--info); }
.made { margin: 14px 0 22px; }
.made img { display: block; max-width: 100%; height: auto; min-height: 40px; border: 1px solid var(--line); }
.made figcaption { font-weight: 600; margin: 0 0 4px; }
.legend { margin: 12px 0 0; padding-inline-start: 20px; font-size: 14px; color: var(--quiet); max-width: 100ch; }
.legend li { margin: 0 0 4px; }
`;
