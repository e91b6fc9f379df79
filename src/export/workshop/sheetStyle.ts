import { sans } from "../sheet/palette";

/** How the workshop sheet looks: black on white, A4 with room to write, one column on a phone. */
export const sheetStyle = `
@page { size: A4; margin: 14mm 14mm 16mm; }
* { box-sizing: border-box; }
html { background: #ffffff; color: #1b1d21; }
body { margin: 0 auto; padding: 18px; max-width: 820px; font: 15px/1.45 ${sans}; overflow-wrap: break-word; }
header { border-bottom: 3px solid #123f6e; padding-bottom: 8px; margin-bottom: 14px; }
h1 { font-size: 26px; line-height: 1.2; margin: 0; }
h2 { font-size: 18px; line-height: 1.25; margin: 26px 0 8px; padding-top: 6px; border-top: 1px solid #b9bcc2; break-after: avoid; }
h3 { font-size: 15px; margin: 14px 0 6px; break-after: avoid; }
p { margin: 6px 0; }
header p { color: #3d4149; margin: 4px 0 0; }
.figures { display: grid; grid-template-columns: repeat(auto-fill, minmax(150px, 1fr)); gap: 8px; margin: 0; }
.figures div { border: 1px solid #8d9199; border-radius: 4px; padding: 6px 10px 8px; break-inside: avoid; }
.figures dt { font-size: 13px; color: #3d4149; }
.figures dd { margin: 0; font-size: 19px; font-weight: bold; line-height: 1.25; }
.figures dd.note { font-size: 13px; font-weight: normal; color: #3d4149; }
.plots { display: grid; grid-template-columns: repeat(auto-fit, minmax(min(320px, 100%), 1fr)); gap: 10px 22px; }
figure { margin: 0; break-inside: avoid; }
figcaption { font-size: 14px; font-weight: bold; margin: 4px 0; }
figcaption span { font-weight: normal; }
.plot { display: block; width: 100%; height: auto; max-width: 560px; }
.picture { display: block; max-width: 100%; height: auto; max-height: 105mm; }
.standing .picture { margin: 0 auto; }
.small { display: block; width: 100%; height: auto; max-height: 55mm; object-fit: contain; }
.choices { display: grid; grid-template-columns: repeat(auto-fill, minmax(175px, 1fr)); gap: 10px; }
.choice { border: 1px solid #8d9199; border-radius: 4px; padding: 8px 10px; break-inside: avoid; font-size: 13.5px; }
.choice.marked { border: 3px solid #123f6e; padding: 6px 8px; }
.choice h3 { margin: 0; }
.choice table { font-size: 13px; }
.wide { overflow-x: auto; margin: 8px 0; }
table { border-collapse: collapse; width: 100%; font-size: 14px; }
th, td { text-align: left; vertical-align: top; padding: 4px 10px 4px 0; border-bottom: 1px solid #d5d7db; }
thead { display: table-header-group; break-after: avoid; }
tbody tr:first-child { break-before: avoid; }
.short { break-inside: avoid; }
h2 + p, h3 + p { break-after: avoid; }
thead th { border-bottom: 1.5px solid #1b1d21; font-size: 13px; vertical-align: bottom; }
tr { break-inside: avoid; }
.number { text-align: right; padding-left: 10px; white-space: nowrap; }
tr.marked td { font-weight: bold; border-top: 1.5px solid #123f6e; border-bottom: 1.5px solid #123f6e; }
ul, ol { margin: 6px 0; padding-left: 22px; }
li { margin: 3px 0; break-inside: avoid; }
.steps { list-style: none; padding-left: 0; }
.steps li { position: relative; padding-left: 24px; }
.steps li::before { content: ""; position: absolute; left: 0; top: 4px; width: 13px; height: 13px; border: 1.5px solid #1b1d21; }
.finding { border-left: 3px solid #8d9199; padding: 1px 0 1px 10px; margin: 8px 0; break-inside: avoid; }
.finding.warning { border-left: 6px double #bf7b1e; }
.finding.error { border-left: 6px solid #1b1d21; }
.place, .hint { color: #3d4149; font-size: 13.5px; }
.cautions { border: 2px solid #1b1d21; border-radius: 4px; padding: 2px 14px 8px; margin-top: 26px; break-inside: avoid; }
.cautions h2 { border-top: 0; margin-top: 8px; padding-top: 0; }
footer { margin-top: 18px; color: #3d4149; font-size: 13px; }
@media print {
  body { max-width: none; padding: 0; font-size: 10.5pt; }
  h1 { font-size: 18pt; }
  h2 { font-size: 13pt; margin-top: 16pt; }
  .figures { grid-template-columns: repeat(4, 1fr); }
  .choices { grid-template-columns: repeat(3, 1fr); }
  .picture { max-height: 84mm; }
  .plots { grid-template-columns: 1fr 1fr; }
  .wide { overflow-x: visible; }
  * { -webkit-print-color-adjust: exact; print-color-adjust: exact; }
}
`;
