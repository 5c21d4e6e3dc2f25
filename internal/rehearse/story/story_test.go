package story

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"halfline/internal/rehearse/browser"
)

// people are everybody in the room.
type people struct {
	coach, wall *browser.Page
	phones      map[string]*browser.Page // by spot
}

// gather opens the coach's page, three phones and a wall.
func gather(t *testing.T, b *browser.Browser, s *server) people {
	w := people{coach: coachPage(t, b, s, browser.View{W: 1280, H: 800}), phones: map[string]*browser.Page{}}
	press(w.coach, ".looks", "Twins right, middle")
	press(w.coach, ".calls", "Two-read")
	join := code(w.coach)
	for _, p := range []struct{ spot, name, number string }{{"C", "Bly", "4"}, {"N", "Rui", "22"}, {"FS", "Ode", "7"}} {
		w.phones[p.spot] = phone(t, b, s, browser.PhoneSmall, join, p.name, p.number, p.spot)
	}
	w.wall = b.Page(t, browser.Wall)
	w.wall.Goto(s.coach)
	w.wall.WaitFor(`document.querySelector(".coach .board svg")`)
	w.wall.Goto(s.url(browser.Eval[string](w.wall, `document.querySelector('a[href^="#wall="]').getAttribute("href")`)))
	w.wall.WaitFor(`document.body.textContent.includes("of 3 keep")`)
	return w
}

func (w people) snap(name string) {
	shot(w.coach, name+"-coach")
	shot(w.wall, name+"-wall")
	for spot, p := range w.phones {
		shot(p, name+"-"+spot)
	}
}

// The whole story, in the order in which a coach would live it.
func TestCoachPhonesAndWall(t *testing.T) {
	s := start(t)
	b := browser.Start(t)
	w := gather(t, b, s)
	c, n, fs := w.phones["C"], w.phones["N"], w.phones["FS"]
	for _, p := range w.phones {
		answer(p, "Keeps")
		require.NotEmpty(t, p.Text(".card"))
	}
	w.snap("1-all-keep")

	// The safety stands as far inside as his rule lets him, still right.
	for range 6 {
		fs.Tap(`button[aria-label="Half a yard in"]`)
	}
	answer(fs, "Keeps")
	fsBefore := fs.Text(".answer")

	// The slot goes out three yards: same numbers, other answers.
	numbers := numerals(w.coach)
	dragMan(w.coach, "H", 3)
	fs.WaitFor(`document.querySelector(".answer .fixline").textContent.includes("outside")`)
	n.WaitFor(`document.querySelector(".answer .fixline").textContent.includes("outside")`)
	assert.Equal(t, numbers, numerals(w.coach), "the numbers stay")
	assert.NotEqual(t, fsBefore, fs.Text(".answer"))
	w.snap("2-slot-out")

	// The nickel nudges himself right.
	for i := 0; i < 12 && !strings.HasPrefix(fixLine(n), "Stay"); i++ {
		before := fixLine(n)
		n.Tap(`button[aria-label="Half a yard out"]`)
		n.WaitFor(fmt.Sprintf(`document.querySelector(".answer .fixline").textContent !== %q`, before))
	}
	answer(n, "Keeps")
	assert.True(t, strings.HasPrefix(fixLine(n), "Stay"), fixLine(n))

	// One tap below: what his numbers rest on, each with its standing and its mend.
	n.Tap(".rests summary")
	n.WaitFor(`document.querySelector(".rests ul")?.textContent.includes("published")`)
	n.WaitFor(`document.querySelector(".rests ul").textContent.includes("Change:")`)
	n.Tap(".rests summary")

	// The other call: the nickel's answer flips.
	press(w.coach, ".calls", "Quarters")
	answer(n, "Loses")
	assert.Contains(t, fixLine(n), "outside")
	assert.Contains(t, n.Text(".card"), "outside")
	assert.Contains(t, n.Text(".answer .sub"), "rong side")
	w.snap("3-quarters")

	// The back goes in motion outside the slot: the count changes, the keys with it.
	selectMan(w.coach, "B")
	press(w.coach, ".manbar", "Motion")
	clickField(w.coach, 14.5, -2.5)
	w.coach.WaitFor(`[...document.querySelectorAll('[data-who="B"] .numeral')].some(e => e.textContent.includes("#2"))`)
	n.WaitFor(`document.querySelector(".banner").textContent.includes("#2 is B")`)
	w.snap("4-motion")
	w.coach.Click(`button[aria-label="Undo"]`)
	w.coach.WaitFor(`!document.querySelector('[data-who="B"] .numeral')?.textContent.includes("#")`)

	// A toss, frozen with the nickel over the top.
	press(w.coach, ".looks", "Twins right, middle")
	press(w.coach, ".calls", "Two-read")
	for _, p := range w.phones {
		answer(p, "Keeps")
	}
	press(w.coach, ".moment", "Toss")
	press(w.coach, ".moment", "Freeze")
	w.coach.WaitText("Sound")
	w.snap("5-frozen")
	dragMan(w.coach, "N", 2)
	w.coach.WaitFor(`document.querySelector(".faults").textContent.includes("over the top")`)
	w.coach.WaitFor(`document.querySelector(".faults").textContent.includes("lane 0 is open")`)
	w.wall.WaitFor(`[...document.querySelectorAll("svg text")].some(e => e.textContent.includes("open"))`)
	answer(n, "Over the top")
	w.coach.WaitFor(`document.querySelector('[data-who="N"] .flag')`)
	w.snap("6-over-the-top")

	// The power goes: everything comes back, phones by themselves.
	faults := w.coach.Text(".faults")
	s.kill()
	for _, p := range w.phones {
		p.AllowErrors("WebSocket", "ERR_CONNECTION_REFUSED")
		p.WaitFor(`!document.querySelector(".linkmark, .bar").textContent.includes("live")`)
	}
	w.coach.AllowErrors("WebSocket", "ERR_CONNECTION_REFUSED")
	w.wall.AllowErrors("WebSocket", "ERR_CONNECTION_REFUSED")
	w.snap("7-server-dead")
	s.up()
	for _, p := range w.phones {
		p.WithPatience(backWithin).WaitFor(`document.querySelector(".bar").textContent.includes("live")`)
	}
	w.coach.WithPatience(backWithin).WaitFor(`document.querySelector(".top").textContent.includes("live")`)
	answer(n, "Over the top")
	assert.Equal(t, faults, w.coach.Text(".faults"), "the same board after the restart")
	w.snap("8-back")

	// The second hash, mirrored: the words are still right.
	press(w.coach, ".moment", "Back")
	press(w.coach, ".looks", "Twins left, to the field")
	press(w.coach, ".calls", "Two-read")
	for i := 0; i < 40 && !strings.HasPrefix(fixLine(n), "Stay"); i++ {
		nudge(n, fixLine(n))
	}
	answer(n, "Keeps")
	assert.Contains(t, n.Text(".card"), "inside")
	press(w.coach, ".calls", "Quarters")
	answer(n, "Loses")
	assert.Contains(t, fixLine(n), "outside")
	w.snap("9-mirrored")
	_ = c
}

// nudge makes the first step of a fix with the buttons.
func nudge(p *browser.Page, fix string) {
	for word, button := range map[string]string{"inside": "in", "outside": "out", "deeper": "back", "up": "up"} {
		if strings.Contains(strings.SplitN(fix, ",", 2)[0], word) {
			if word == "inside" && strings.Contains(fix, "outside") {
				continue
			}
			p.Tap(fmt.Sprintf(`button[aria-label="Half a yard %s"]`, button))
			p.WaitFor(fmt.Sprintf(`document.querySelector(".answer .fixline").textContent !== %q`, fix))
			return
		}
	}
}

// backWithin is generous: phones wait up to 15 s between tries.
const backWithin = 30 * time.Second
