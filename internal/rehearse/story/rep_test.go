package story

import (
	"encoding/json"
	"fmt"
	"math"
	"path/filepath"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"halfline/internal/rehearse/browser"
)

// whereScript reads from a page's own drawing where its men stand, in yards from
// the snapper, who stays where he is: to the offense's right, and deep. Yard lines
// are 5 yards apart; the page is seen from the defense, so right is left on it.
const whereScript = `((svg) => {
	const num = (el, key) => Number(el.getAttribute(key));
	const lines = [...svg.querySelectorAll(".ground .yard, .ground .scrimmage")].map(l => num(l, "y1")).sort((a, b) => a - b);
	const yard = Math.min(...lines.slice(1).map((y, i) => y - lines[i])) / 5;
	const at = (g) => g.style.transform.match(/-?[\d.]+/g).map(Number);
	const ball = at(svg.querySelector('[data-who="SN"]')), line = num(svg.querySelector(".scrimmage"), "y1");
	return Object.fromEntries([...svg.querySelectorAll(".piece")].map(g => [g.dataset.who, [(ball[0] - at(g)[0]) / yard, (at(g)[1] - line) / yard]]));
})(document.querySelector(".board svg"))`

type places map[string][2]float64

func where(p *browser.Page) (out places) {
	if err := json.Unmarshal([]byte(browser.Eval[string](p, "JSON.stringify("+whereScript+")")), &out); err != nil {
		panic(err) // the page itself wrote it
	}
	return out
}

// samePlaces holds what pages show against one another, in yards.
func samePlaces(t *testing.T, within float64, pages map[string]*browser.Page) {
	t.Helper()
	want := places(nil)
	for name, p := range pages {
		got := where(p)
		if want == nil {
			want = got
		}
		for who, at := range got {
			if w, ok := want[who]; ok && at[0] > -3 { // who is far out on the other side is drawn at the edge
				assert.InDelta(t, w[0], at[0], within, "%s on %s, across", who, name)
				assert.InDelta(t, w[1], at[1], within, "%s on %s, deep", who, name)
			}
		}
	}
}

// film notes on a page which time of the rep is drawn, at every frame, by the
// clock that all pages of one machine share.
func film(p *browser.Page) {
	browser.Eval[bool](p, `(window.frames_ = [], (function note() {
		const ms = document.querySelector(".board svg").dataset.ms;
		if (ms !== undefined) window.frames_.push([performance.timeOrigin + performance.now(), Number(ms)]);
		requestAnimationFrame(note);
	})(), true)`)
}

// frame is a time of day and the time of the rep that was drawn then, in ms.
type frame [2]float64

func filmed(p *browser.Page) (out []frame) {
	if err := json.Unmarshal([]byte(browser.Eval[string](p, `JSON.stringify(window.frames_)`)), &out); err != nil {
		panic(err) // the page itself wrote it
	}
	return out
}

// apart gives how many ms two films of one rep are apart in the middle of all
// frames that can be compared, and how many those are. Single frames say little:
// a busy machine draws them late.
func apart(a, b []frame) (median float64, n int) {
	var all []float64
	j := 0
	for _, f := range a {
		for j+1 < len(b) && b[j+1][0] <= f[0] {
			j++
		}
		if j+1 >= len(b) || b[j][0] > f[0] || b[j+1][0]-b[j][0] > 100 || b[j+1][1] == b[j][1] {
			continue // the other page was not drawn around that time, or it stands
		}
		part := (f[0] - b[j][0]) / (b[j+1][0] - b[j][0])
		all = append(all, math.Abs(f[1]-b[j][1]-(b[j+1][1]-b[j][1])*part))
	}
	if len(all) == 0 {
		return 0, 0
	}
	slices.Sort(all)
	return all[len(all)/2], len(all)
}

func overText(p *browser.Page) string { return p.Text(".endline") }

// drawn waits until a page has drawn two frames.
func drawn(p *browser.Page) {
	browser.Eval[bool](p, `new Promise(r => requestAnimationFrame(() => requestAnimationFrame(() => r(true))))`)
}

// scrub moves the coach's slider to a time of the rep.
func scrub(p *browser.Page, ms int) {
	browser.Eval[bool](p, fmt.Sprintf(`(() => {
		const bar = document.querySelector(".scrub input");
		bar.value = %d;
		bar.dispatchEvent(new Event("input", {bubbles: true}));
		return true;
	})()`, ms))
}

// One rep, from the snap to the end, on the coach's page, two phones and the
// wall; then stopped, scrubbed, shown to who comes late, and run with one rule
// broken.
func TestRepRunsOnEveryScreenInStep(t *testing.T) {
	s := start(t)
	b := browser.Start(t)
	w := gather(t, b, s)
	late := w.phones["C"]
	delete(w.phones, "C")
	late.Tap(".dots")
	press(late, ".menu", "Let go")
	late.WaitFor(`document.querySelector(".spots")`)
	late.Close()
	all := map[string]*browser.Page{"coach": w.coach, "wall": w.wall, "N": w.phones["N"], "FS": w.phones["FS"]}
	join := code(w.coach)

	for _, p := range all {
		film(p)
	}
	press(w.coach, ".moment", "Toss")
	press(w.coach, ".moment", "Snap")
	for _, p := range all {
		p.WaitFor(`document.querySelector(".flies[transform]")`)
	}
	w.coach.WaitFor(`document.querySelector(".endline")`)
	end := overText(w.coach)
	assert.Contains(t, end, "tackles", "played right, a toss is run down (common practice, no source)")
	for _, p := range w.phones {
		p.WaitFor(`document.querySelector(".answer .fixline")?.textContent === ` + quoted(end))
	}
	w.wall.WaitFor(`document.querySelector(".tally")?.textContent === ` + quoted(end))
	coach := filmed(w.coach)
	for name, p := range all {
		if name == "coach" {
			continue
		}
		median, n := apart(coach, filmed(p))
		t.Logf("%s: %.0f ms apart, %d frames", name, median, n)
		assert.Greater(t, n, 20, "frames of %s", name)
		assert.LessOrEqual(t, median, 60.0, "%s is out of step with the coach's page", name)
	}
	w.snap("rep-1-end")

	// Stopped where everybody is still apart: the same places everywhere.
	scrub(w.coach, 700)
	for _, p := range all {
		p.WaitFor(`!document.querySelector(".endline, .tally.keeps, .tally.loses, .answer.keeps, .answer.loses")`)
	}
	w.coach.WaitFor(`document.querySelector(".scrub output").textContent.startsWith("0.7")`)
	for _, p := range all {
		drawn(p)
	}
	samePlaces(t, 0.3, all)
	at := where(w.coach)
	press(w.coach, ".playbar", "Roll")
	w.coach.WaitFor(`document.querySelector(".endline")`)
	assert.Equal(t, end, overText(w.coach), "the same rep again")
	scrub(w.coach, 700)
	w.coach.WaitFor(`document.querySelector(".scrub output").textContent.startsWith("0.7")`)
	assert.InDelta(t, at["B"][0], where(w.coach)["B"][0], 0.05)

	// Who comes late sees it stand there, too.
	late = phone(t, b, s, browser.PhoneSmall, join, "Bly", "4", "C")
	late.WaitFor(`document.querySelector(".flies[transform]")`)
	samePlaces(t, 0.3, map[string]*browser.Page{"coach": w.coach, "late": late})
	require.Empty(t, browser.Eval[string](late, `document.querySelector(".steps")?.textContent ?? ""`), "nobody but the coach moves men in a rep")

	// What if the nickel goes over the top?
	selectMan(w.coach, "N")
	w.coach.WaitFor(`document.querySelector(".inrep option[value=over-the-top]")`)
	browser.Eval[bool](w.coach, `(() => {
		const pick = document.querySelector(".inrep select");
		pick.value = "over-the-top";
		pick.dispatchEvent(new Event("change", {bubbles: true}));
		return true;
	})()`)
	w.coach.WaitFor(`document.querySelector(".given") && document.querySelector(".endline")`)
	broken := overText(w.coach)
	assert.NotEqual(t, end, broken)
	assert.Contains(t, broken, "N over the top")
	answer(w.phones["N"], "Over the top")
	w.snap("rep-2-over-the-top")
	for name, p := range map[string]*browser.Page{"coach": w.coach, "wall": w.wall, "N": w.phones["N"]} {
		assert.Empty(t, p.Violations(filepath.Join("..", "..", "..", "client", "node_modules", "axe-core", "axe.min.js")), name)
	}

	// A pass, from the list of the other plays: it is run at once.
	browser.Eval[bool](w.coach, `(() => {
		const pick = document.querySelector('[aria-label="Other plays"]');
		pick.value = "wheel";
		pick.dispatchEvent(new Event("change", {bubbles: true}));
		return true;
	})()`)
	w.coach.WaitFor(`document.querySelector(".moment h2 small").textContent.startsWith("Wheel")`)
	w.coach.WaitFor(`document.querySelector(".endline")?.textContent.length > 8`)
	w.snap("rep-3-pass")

	// The keys of the keyboard: a tenth back, and the whole thing off.
	w.coach.Key("Escape")
	w.coach.Key(",")
	w.coach.WaitFor(`!document.querySelector(".endline")`)
	w.coach.Key("u")
	for _, p := range all {
		p.WaitFor(`!document.querySelector(".flies")`)
	}
	answer(w.phones["N"], "Keeps")

	// A hand on a man ends a rep.
	press(w.coach, ".moment", "Snap")
	w.coach.WaitFor(`document.querySelector(".endline")`)
	dragMan(w.coach, "H", 1)
	for _, p := range all {
		p.WaitFor(`!document.querySelector(".flies")`)
	}
}

func quoted(s string) string {
	b, err := json.Marshal(s)
	if err != nil {
		panic(err) // no string is without a JSON form
	}
	return string(b)
}
