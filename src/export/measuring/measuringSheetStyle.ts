import { sans } from "../sheet/palette";

/** How the measuring sheet looks: black on white on A4 or Letter, with boxes to write in. */
export const measuringSheetStyle = `
@page { margin: 12mm; }
* { box-sizing: border-box; }
html { background: #ffffff; color: #17181b; }
body { margin: 0 auto; padding: 16px; max-width: 186mm; font: 14px/1.38 ${sans}; overflow-wrap: break-word; }
h1 { font-size: 24px; line-height: 1.2; margin: 0 0 6px; }
h2 { font-size: 16px; line-height: 1.25; margin: 0; }
p { margin: 3px 0; }
dl.person { display: grid; grid-template-columns: repeat(4, 1fr); gap: 6px; margin: 8px 0; }
dl.person div { border: 1px solid #55585f; padding: 2px 7px 4px; min-height: 12mm; }
dl.person .broad { grid-column: span 2; }
dt { font-size: 12px; color: #3d4149; }
dd { margin: 0; font-weight: bold; }
.measure { display: grid; grid-template-columns: 58mm 1fr; gap: 5mm; border-top: 1px solid #9a9da4; padding: 7px 0; break-inside: avoid; }
.measure > div { min-width: 0; }
.measure-drawing { display: block; width: 100%; height: 43mm; }
.instrument, .known, .hint { color: #3d4149; font-size: 13px; }
.first { border: 1.5px solid #17181b; border-radius: 3px; display: inline-block; padding: 0 6px; font-size: 13px; font-weight: bold; }
.boxes { display: grid; grid-template-columns: repeat(4, 1fr); gap: 5px; margin-top: 5px; }
.boxes div { border: 1px solid #17181b; padding: 1px 6px 2px; min-height: 11mm; font-size: 12px; color: #3d4149; }
.boxes b { display: block; font-size: 16px; color: #17181b; }
.boxes .spare { border-style: dashed; }
.notes { border: 1px solid #55585f; padding: 3px 7px; min-height: 24mm; margin-top: 8px; break-inside: avoid; }
.cautions { border: 2px solid #17181b; border-radius: 4px; padding: 6px 14px; margin-top: 10px; break-inside: avoid; }
.cautions ul { margin: 3px 0; padding-left: 20px; }
footer { margin-top: 8px; color: #3d4149; font-size: 12px; }
@media (max-width: 560px) {
  .measure { grid-template-columns: 1fr; }
  dl.person { grid-template-columns: 1fr 1fr; }
  .boxes { grid-template-columns: 1fr 1fr; }
}
@media print {
  body { max-width: none; padding: 0; font-size: 9.5pt; }
  h1 { font-size: 17pt; }
  h2 { font-size: 12pt; }
  * { -webkit-print-color-adjust: exact; print-color-adjust: exact; }
}
`;
