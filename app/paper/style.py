"""How the HTML looks, on the screen and printed: black on white, large enough for a bench."""

STYLE = """\
@page { margin: 14mm 14mm 16mm; @bottom-right { content: counter(page) " / " counter(pages); font: 10pt sans-serif; } }
* { box-sizing: border-box; }
body { margin: 0 auto; max-width: 190mm; padding: 6mm; color: #000; background: #fff; overflow-wrap: break-word;
  font: 12pt/1.35 Inter, "Segoe UI", Roboto, "Helvetica Neue", Arial, "Liberation Sans", sans-serif; }
.part + .part { break-before: page; margin-top: 14mm; border-top: 1px solid #999; padding-top: 8mm; }
h1, .label h2, .name, p { overflow-wrap: anywhere; }
h1 { font-size: 20pt; line-height: 1.2; margin: 0 0 2mm; }
h2 { font-size: 14pt; margin: 6mm 0 2mm; break-after: avoid; }
p { margin: 0 0 1.5mm; }
.small { font-size: 10pt; }
.strong { font-weight: 700; }
.together, tr, li, .box, .label, svg { break-inside: avoid; }
.tank { display: flex; justify-content: space-between; align-items: center; gap: 6mm; border: 2pt solid #000;
  padding: 3mm 4mm; margin: 7mm 0 2mm; break-after: avoid; }
.tank h2 { font-size: 26pt; line-height: 1.1; margin: 0; }
.tank p { margin: 0; text-align: right; font-size: 11pt; white-space: nowrap; }
.tank b { font-size: 13.5pt; }
table { border-collapse: collapse; width: 100%; }
.weights td { border-bottom: 1pt solid #999; padding: 1.2mm 2mm; vertical-align: middle; }
.weights td:first-child { width: 12mm; padding-left: 0; }
.tick { display: block; width: 6.5mm; height: 6.5mm; border: 1.5pt solid #000; }
.name { font-size: 13.5pt; width: 45%; }
.name small { display: block; font-size: 10pt; }
.weight { font-size: 22pt; font-weight: 700; text-align: right; white-space: nowrap; }
.scale { font-size: 10pt; white-space: nowrap; }
.was { font-size: 10pt; white-space: nowrap; }
.blank { display: inline-block; min-width: 16mm; border-bottom: 0.8pt solid #000; }
.go .name { padding-left: 8mm; font-size: 11pt; }
.go .weight { font-size: 16pt; }
ol { padding-left: 8mm; margin: 3mm 0; font-size: 12.5pt; }
ol li::marker { font-weight: 700; }
ul { padding-left: 5mm; margin: 0; font-size: 10pt; }
li { margin-bottom: 0.7mm; }
.box { border: 1pt solid #000; padding: 2.5mm 4mm 1.5mm; margin: 4mm 0; font-size: 11pt; }
.box p { margin: 0 0 0.8mm; }
.box.loud { border-width: 4pt; font-size: 12.5pt; }
.data { font-size: 10.5pt; line-height: 1.2; margin: 3mm 0; }
.data th { text-align: left; border-bottom: 1.5pt solid #000; padding: 0.8mm 2mm; }
.data td { border-bottom: 0.5pt solid #999; padding: 0.8mm 2mm; }
.data th.right, .data td.right { text-align: right; white-space: nowrap; font-variant-numeric: tabular-nums; }
.data tr.strong td { font-weight: 700; border: 1pt solid #000; border-width: 1.2pt 0; }
.label { border: 1pt dashed #000; padding: 4mm 7mm; margin: 4mm 0; font-size: 11pt; }
.label p { margin: 0 0 1mm; }
.label h2 { font-size: 40pt; line-height: 1.05; margin: 0 0 2mm; }
.label .dose { font-size: 18pt; font-weight: 700; }
.label .signal { font-size: 20pt; font-weight: 700; margin-top: 3mm; }
.label .hazards { font-weight: 700; }
.label .blanks { margin: 4mm 0 3mm; }
.blanks { display: flex; gap: 8mm; }
.blanks > span { display: flex; flex: 1; gap: 2mm; white-space: nowrap; }
.blanks .blank { flex: 1; }
svg { width: 100%; font: 13px Inter, "Segoe UI", Roboto, Arial, "Liberation Sans", sans-serif; }
svg .grid { stroke: #bbb; fill: none; }
svg .line { stroke: #000; stroke-width: 2; fill: none; }
svg .mark { stroke: #000; stroke-width: 2; fill: #fff; }
@media print { body { padding: 0; max-width: none; } .part + .part { margin: 0; border: 0; padding: 0; } }
"""
