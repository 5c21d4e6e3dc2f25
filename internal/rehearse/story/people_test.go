package story

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"halfline/internal/rehearse/browser"
)

// coachPage opens the coach's link.
func coachPage(t *testing.T, b *browser.Browser, s *server, v browser.View) *browser.Page {
	p := b.Page(t, v)
	p.Goto(s.coach)
	p.WaitFor(`document.querySelector(".coach .board svg")`)
	return p
}

// code is the join code on the coach's page, as one types it.
func code(p *browser.Page) string {
	p.WaitFor(`document.querySelector(".joincode b")?.textContent.length > 5`)
	return p.Text(".joincode b")
}

// phone joins by the code and takes a spot.
func phone(t *testing.T, b *browser.Browser, s *server, v browser.View, join, name, number, spot string) *browser.Page {
	p := b.Page(t, v)
	p.Goto(s.url("#join=" + join))
	p.Fill(`input[maxlength="12"]`, name)
	p.Fill(`input[maxlength="3"]`, number)
	p.Tap("form .strong")
	take(p, spot)
	return p
}

// take holds a free spot.
func take(p *browser.Page, spot string) {
	find := fmt.Sprintf(`[...document.querySelectorAll(".spots button")].find(b => b.querySelector("b").textContent === %q)`, spot)
	p.WaitFor(find)
	browser.Eval[bool](p, `(() => {`+find+`.id = "mine"; return true})()`)
	p.Tap("#mine")
	p.WaitFor(`document.querySelector(".answer .head")`)
}

// press clicks the button with a text in a part of the page.
func press(p *browser.Page, within, text string) {
	find := fmt.Sprintf(`[...document.querySelectorAll(%q)].find(b => b.textContent.trim().startsWith(%q))`, within+" button", text)
	p.WaitFor(find)
	browser.Eval[bool](p, `(() => { document.querySelector("#pressed")?.removeAttribute("id"); `+find+`.id = "pressed"; return true})()`)
	p.Click("#pressed")
}

// answer waits until the answer line of a phone says something.
func answer(p *browser.Page, head string) {
	p.WaitFor(fmt.Sprintf(`document.querySelector(".answer .head")?.textContent.startsWith(%q)`, head))
}

func fixLine(p *browser.Page) string { return p.Text(".answer .fixline") }

// shot keeps a picture when a folder for them is named.
func shot(p *browser.Page, name string) {
	if dir := os.Getenv("STORY_SHOTS"); dir != "" {
		p.Screenshot(filepath.Join(dir, name+".png"))
	}
}

// yard is how many CSS pixels a yard is on a page's board, and which way
// outside and deeper are, measured from two men whose places are known.
const boardProbe = `(() => {
	const at = (w) => { const r = document.querySelector('[data-who="' + w + '"] .reach').getBoundingClientRect(); return [r.x + r.width / 2, r.y + r.height / 2]; };
	const q = at("Q"), sn = at("SN");
	const depth = Math.hypot(q[0] - sn[0], q[1] - sn[1]) / 5;
	const z = at("Z");
	return JSON.stringify({yard: depth, out: Math.sign(z[0] - sn[0]), deep: Math.sign(sn[1] - q[1]), x: sn[0], y: sn[1]});
})()`

// probe is the board's scale; X, Y is the snapper's place on the page.
type probe struct{ Yard, Out, Deep, X, Y float64 }

func probeBoard(p *browser.Page) probe {
	var out probe
	if err := json.Unmarshal([]byte(browser.Eval[string](p, boardProbe)), &out); err != nil {
		panic(err)
	}
	return out
}

// dragMan drags a man so many yards outside with the mouse.
func dragMan(p *browser.Page, who string, out float64) {
	k := probeBoard(p)
	p.MouseDrag(fmt.Sprintf(`[data-who=%q] .tag`, who), out*k.Out*k.Yard, 0)
}

func selectMan(p *browser.Page, who string) {
	p.Click(fmt.Sprintf(`[data-who=%q] .tag`, who))
	p.WaitFor(fmt.Sprintf(`document.querySelector('[data-who=%q].selected')`, who))
}

// numerals lists who is which number, as the board shows it.
func numerals(p *browser.Page) string {
	return browser.Eval[string](p, `[...document.querySelectorAll(".piece")].map(g => g.dataset.who + (g.querySelector(".numeral")?.textContent.match(/#\d/) ?? "")).filter(t => t.includes("#")).sort().join(" ")`)
}

// clickField clicks the field at a place in yards from the ball: outside, and
// deeper on the defense's side.
func clickField(p *browser.Page, out, deep float64) {
	k := probeBoard(p)
	p.ClickAt(k.X+out*k.Out*k.Yard, k.Y+deep*k.Deep*k.Yard)
}
