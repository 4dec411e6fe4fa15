import { fixedText, type Html } from '../html.ts';

/** On paper: across, so that a row of the map keeps its size; nothing is cut in two; links are only words. */
export const PRINT_STYLE: Html = fixedText`
@page { size: landscape; margin: 12mm; }
@media print {
  html { font-size: 10pt; line-height: 1.35; background: none; }
  table { font-size: 8.5pt; }
  th, td { padding-block: 2px; }
  .finding .where, .finding .seen { font-size: inherit; }
  .legend { font-size: 9pt; }
  tr.group th { padding-top: 10px; font-size: 9.5pt; }
  tbody th[scope="row"] .quiet, td .quiet { display: inline; }
  body { max-width: none; padding: 0; }
  h2 { break-after: avoid; margin-top: 22px; }
  a { color: inherit; text-decoration: none; }
  .scroller { overflow: visible; }
  .map { min-width: 0; }
  .map-part { margin-bottom: 14px; }
  .map-part, .finding, .caution, .summary, .made, tr { break-inside: avoid; }
  tr.group { break-after: avoid; }
  thead { display: table-header-group; }
  .bar, .band, .block, .mark, .icon, .caution { print-color-adjust: exact; }
}
`;
