/**
 * The style of a report: dark on white, one column, wide tables scroll by themselves, nothing is cut in print. It holds
 * no character that XML reads otherwise.
 */
export const reportStyles = `
:root { color-scheme: light; }
* { box-sizing: border-box; }
body { margin: 0 auto; padding: 1rem 1.25rem 4rem; max-width: 48rem; background: #fff; color: #1f1f1f;
  font: 1rem/1.55 system-ui, "Helvetica Neue", Helvetica, Arial, "Liberation Sans", sans-serif; overflow-wrap: break-word; }
h1, h2, h3, h4, h5, h6 { line-height: 1.25; margin: 2em 0 0.6em; break-after: avoid; }
h1 { font-size: 1.75rem; margin: 0.5rem 0 0.5rem; }
h2 { font-size: 1.35rem; border-top: 1px solid #c8c8c8; padding-top: 1rem; }
h3 { font-size: 1.12rem; }
h4, h5, h6 { font-size: 1rem; }
a { color: #0b5394; }
a:focus-visible, summary:focus-visible, .scroll:focus-visible, .drawing:focus-visible { outline: 3px solid #0b5394; outline-offset: 2px; }
.skip { position: absolute; left: -100rem; }
.skip:focus { position: static; }
code, pre { font-family: ui-monospace, "SF Mono", Menlo, Consolas, "Liberation Mono", monospace; font-size: 0.875em; }
pre { margin: 0.5rem 0; padding: 0.75rem; background: #f5f5f5; white-space: pre-wrap; overflow-wrap: anywhere; }
blockquote { margin: 1em 0; padding-left: 1rem; border-left: 3px solid #c8c8c8; }
.file { margin: 0 0 1rem; color: #595959; }
.banner { margin: 1rem 0; padding: 0.6rem 0.9rem; border: 1px solid #767676; border-left-width: 5px; }
.banner p { margin: 0.2rem 0; }
nav ul { padding-left: 1.2rem; margin: 0.4rem 0; }
.cell { margin: 1.5rem 0; }
.cell .name { break-after: avoid; margin: 0 0 0.4rem; color: #595959; font-size: 0.875rem; }
.chosen { break-after: avoid; margin: 0 0 0.4rem; font-size: 0.875rem; }
.answer:not(.many) { font-weight: 600; }
.answer p, .details p, .notes p { margin: 0.4rem 0; }
.notes, .method, .count, caption { color: #595959; font-size: 0.875rem; }
figure { margin: 1rem 0; break-inside: avoid; }
figcaption { margin-top: 0.4rem; font-size: 0.875rem; color: #404040; }
.drawing { overflow-x: auto; }
.drawing svg { display: block; max-width: 100%; min-width: min(30rem, 100%); height: auto; }
.scroll { overflow-x: auto; margin: 0.75rem 0; }
table { border-collapse: collapse; font-size: 0.875rem; font-variant-numeric: tabular-nums; }
caption { text-align: left; padding-bottom: 0.35rem; overflow-wrap: anywhere; }
th, td { padding: 0.25rem 0.6rem; text-align: left; vertical-align: top; border-bottom: 1px solid #dcdcdc; overflow-wrap: break-word; max-width: 26rem; }
thead th { border-bottom: 2px solid #767676; vertical-align: bottom; }
tbody th { font-weight: 400; }
.number { text-align: right; white-space: nowrap; }
thead th.number { white-space: normal; }
.short { white-space: nowrap; }
.long { overflow-wrap: anywhere; min-width: 11rem; }
.tall { max-height: 32rem; overflow-y: auto; border-bottom: 1px solid #dcdcdc; }
.tall thead th { position: sticky; top: 0; background: #fff; }
abbr { text-decoration: none; color: #595959; }
details { margin: 0.5rem 0; }
summary { cursor: pointer; font-size: 0.875rem; color: #404040; }
.problem { margin: 0.75rem 0; padding: 0.5rem 0.9rem; border: 1px solid #767676; border-left: 5px solid #767676; }
.problem p { margin: 0.2rem 0; overflow-wrap: anywhere; }
.problem.error { border-color: #a61b1b; }
.problem.info { padding: 0; border: 0; font-size: 0.875rem; color: #404040; }
.provenance { font-size: 0.9375rem; }
.provenance dt { font-weight: 600; }
.provenance dd { margin: 0 0 0.5rem; overflow-wrap: anywhere; }
.provenance caption { font-size: 1rem; font-weight: 600; color: inherit; }
.provenance .scroll { margin: 1.5rem 0; }
.provenance td { max-width: none; }
@media (max-width: 40rem) {
  body { padding: 0.75rem 0.75rem 3rem; }
  .drawing svg { min-width: 30rem; }
}
@page { margin: 15mm; }
@page sideways { size: landscape; margin: 10mm; }
@media screen and (min-width: 60rem) {
  .broad, .wide { --more: min(12rem, (100vw - 54rem) / 2); margin-left: calc(-1 * var(--more)); margin-right: calc(-1 * var(--more)); }
}
@media print {
  body { max-width: none; padding: 0; font-size: 10pt; }
  nav, .skip { display: none; }
  h2 { break-before: auto; }
  p, li { orphans: 3; widows: 3; }
  .scroll, .drawing { overflow: visible; max-height: none; }
  .tall thead th { position: static; }
  .broad table { font-size: 6pt; }
  .wide { page: sideways; }
  .wide table { font-size: 5pt; }
  .wide th, .wide td { padding: 0.1rem 0.15rem; }
  .long { min-width: 0; overflow-wrap: anywhere; }
  .drawing svg { min-width: 0; }
  .drawing:not(.high) svg { width: auto; max-height: 22cm; }
  figure:has(.high) { break-inside: auto; }
  table { font-size: 7.5pt; max-width: 100%; }
  th, td { padding: 0.15rem 0.3rem; }
  .vast .short, .vast .number, .vast th { white-space: normal; overflow-wrap: anywhere; }
  details.data { display: none; }
  thead { display: table-header-group; }
  tr, figure, .problem, .banner { break-inside: avoid; }
  .provenance { break-before: page; }
  details:not(.data)::details-content { content-visibility: visible; height: auto; }
  pre { font-size: 7.5pt; }
  a { color: inherit; }
}
`;
