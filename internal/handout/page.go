package handout

import (
	"html"
	"strings"

	"halfline/internal/strip"
)

// Style lays the pages out, the same text on every one, so that a page's policy can
// name it. Lengths fit the smaller of A4 and Letter either way, margins off:
// 192 mm by 261 mm.
var Style = strings.ReplaceAll(style, "\n", "")

const style = `
@page{margin:9mm}
*{box-sizing:border-box}
body{margin:0;color:#000;background:#fff;font:10pt/1.3 system-ui,sans-serif}
h1,h2,p,ul,table{margin:0;padding:0}
.sheet{width:192mm;max-width:100%;margin:0 auto;break-after:page;break-inside:avoid}
.sheet:last-of-type{break-after:auto}
.head{display:flex;justify-content:space-between;align-items:baseline;gap:4mm;border-bottom:1.2pt solid #000;margin-bottom:3mm;padding-bottom:1mm}
h1{font-size:17pt;line-height:1.15}.about{text-align:right}
svg{display:block;width:100%;height:auto}
.unseen{height:0;overflow:hidden}
.foot{margin-top:3mm;padding-top:1mm;border-top:.6pt solid #000;font-size:7.5pt;line-height:1.25}
.boards{display:grid;grid-template-columns:1fr 1fr;gap:3mm 5mm}
.boards>div{break-inside:avoid}
.boards svg{max-height:46mm}
.alike{columns:2;column-gap:5mm;margin:0 0 2.5mm}.alike li{break-inside:avoid;margin-bottom:.6mm}
.boards h2{font-size:9.5pt;line-height:1.2;margin-bottom:.6mm}
.men{list-style:none;margin-top:.8mm;font-size:7.5pt;line-height:1.22}
.men li{padding-left:7mm;text-indent:-7mm}
.men b{display:inline-block;min-width:7mm;text-indent:0}
.duo{display:grid;grid-template-columns:1fr 1fr;gap:6mm;margin-top:5mm;font-size:16pt;line-height:1.3}
.duo h2{font-size:14pt;border-bottom:.6pt solid #000;margin-bottom:1mm}
table{border-collapse:collapse;width:100%}
td,th{text-align:left;padding:.4mm 2mm .4mm 0;vertical-align:baseline;font-weight:400}th{font-weight:700;white-space:nowrap}
.pockets{display:grid;grid-template-columns:1fr 1fr;gap:0}
.pocketcard{height:60mm;overflow:hidden;border:.6pt dashed #000;padding:2.5mm 3mm;font-size:9.5pt;line-height:1.22;break-inside:avoid}
.pocketcard h2{font-size:12pt;line-height:1.1;border-bottom:.6pt solid #000;margin-bottom:1mm;padding-bottom:.6mm}
.pocketcard .men{font-size:inherit}
.how{margin:0 auto 4mm;width:192mm;max-width:100%;padding:2mm 3mm;background:#eee}
@media screen{body{padding:4mm}.sheet{margin-bottom:10mm}}
@media print{.how{display:none}}
`

// page collects one document.
type page struct{ b strings.Builder }

func esc(t string) string { return html.EscapeString(t) }

// begin opens a document; its title is what a browser calls the file.
func begin(title string) *page {
	p := &page{}
	p.add(`<!doctype html><html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width"><title>`, esc(title),
		`</title><style>`, strip.Style, `</style><style>`, Style, `</style></head><body>`,
		`<p class="how">To print or to keep as PDF: the browser's Print. A4 and Letter both fit; black and white is enough.</p>`,
		`<div class="unseen">`, strip.Hatching, `</div>`)
	return p
}

// add writes what is markup already, or escaped.
func (p *page) add(parts ...string) {
	for _, t := range parts {
		p.b.WriteString(t)
	}
}

// sheet opens a sheet with its head.
func (p *page) sheet(title, about string) {
	p.add(`<section class="sheet"><div class="head"><h1>`, esc(title), `</h1><p class="about">`, esc(about), `</p></div>`)
}

// foot closes a sheet with what stands on every one.
func (p *page) foot(caution string) {
	p.add(`<div class="foot"><p>`, esc(strip.Model), `</p>`)
	if caution != "" {
		p.add(`<p><b>Caution. `, esc(caution), `</b></p>`)
	}
	p.add(`</div></section>`)
}

func (p *page) end() []byte {
	p.add("</body></html>\n")
	return []byte(p.b.String())
}

// man is one line of a list: who, and what of him.
func (p *page) man(who string, says ...string) {
	var parts []string
	for _, s := range says {
		if s != "" {
			parts = append(parts, s)
		}
	}
	p.add(`<li><b>`, esc(who), `</b>`, esc(strings.Join(parts, ". ")), `</li>`)
}
