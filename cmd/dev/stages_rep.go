package main

import (
	"fmt"

	"halfline/internal/rehearse/browser"
)

// late is in the middle of a toss, when the ball has been caught; over is after
// every end.
const (
	late = 1700
	over = 99000
)

// snap runs a toss and stops it at a time, in ms after the snap.
func (r *room) snap(at int) {
	press(r.desk, ".moment", "Toss")
	press(r.desk, ".moment", "Snap")
	r.scrub(at)
}

func (r *room) scrub(at int) {
	r.desk.WaitFor(`document.querySelector(".scrub input")`)
	browser.Eval[bool](r.desk, fmt.Sprintf(`(() => {
		const bar = document.querySelector(".scrub input");
		bar.value = %d;
		bar.dispatchEvent(new Event("input", {bubbles: true}));
		return true;
	})()`, at))
	r.desk.WaitFor(`[...document.querySelectorAll(".playbar button")].some(b => ["Roll", "Again"].includes(b.textContent))`)
}

// breaks has a man break a rule in the rep that is on, and runs it to a time.
func (r *room) breaks(who, rule string, at int) {
	selectMan(r.desk, who)
	r.desk.WaitFor(`document.querySelector(".manbar select option[value=` + rule + `]")`)
	browser.Eval[bool](r.desk, fmt.Sprintf(`(() => {
		const pick = document.querySelector(".manbar select");
		pick.value = %q;
		pick.dispatchEvent(new Event("change", {bubbles: true}));
		return true;
	})()`, rule))
	r.desk.WaitFor(`document.querySelector(".given")`)
	press(r.desk, ".manbar", "✕")
	r.scrub(at)
}

// ranTo waits until a page shows the rep at the time the desk has it stopped.
func ranTo(p *browser.Page, r *room) {
	p.WaitFor(`document.querySelector(".flies[transform]")`)
	if at := r.desk.Text(".scrub output"); browser.Eval[bool](p, `!!document.querySelector(".scrub output")`) {
		p.WaitFor(`document.querySelector(".scrub output").textContent === ` + text(at))
	}
}

func repOnDesk(s *studio, device browser.View) *browser.Page {
	r, p := s.gather(device)
	r.snap(late)
	ranTo(p, r)
	return p
}

// repEnd is the desk after a rep in which the nickel went over the top.
func repEnd(s *studio, device browser.View) *browser.Page {
	r, p := s.gather(device)
	r.snap(late)
	r.breaks("N", "over-the-top", over)
	p.WaitFor(`document.querySelector(".endline")`)
	ranTo(p, r)
	return p
}

// repMan is the desk with a defender in hand while a rep is on.
func repMan(s *studio, device browser.View) *browser.Page {
	p := repOnDesk(s, device)
	selectMan(p, "N")
	p.WaitFor(`document.querySelector(".manbar select")`)
	return p
}

// repTab is a rep on a desk with room for one panel, which is the rep's.
func repTab(stage func(*studio, browser.View) *browser.Page) func(*studio, browser.View) *browser.Page {
	return func(s *studio, device browser.View) *browser.Page {
		p := stage(s, device)
		press(p, ".tabs", "Rep")
		return p
	}
}

func repOnPhone(s *studio, device browser.View) *browser.Page {
	r := s.open()
	r.squad()
	p := r.nickel(device, "Keeps")
	r.snap(late)
	ranTo(p, r)
	return p
}

// repFault is the phone of the man who broke the rule, after the rep.
func repFault(s *studio, device browser.View) *browser.Page {
	r := s.open()
	r.squad()
	p := r.nickel(device, "Keeps")
	r.snap(late)
	r.breaks("N", "over-the-top", over)
	ranTo(p, r)
	p.WaitFor(`document.querySelector(".answer.keeps, .answer.loses")`)
	return p
}

func repOnWall(s *studio, device browser.View) *browser.Page {
	r, p := s.wallWith(device)
	r.snap(late)
	ranTo(p, r)
	return p
}

func repEndOnWall(s *studio, device browser.View) *browser.Page {
	r, p := s.wallWith(device)
	r.snap(late)
	r.breaks("N", "over-the-top", over)
	ranTo(p, r)
	p.WaitFor(`document.querySelector(".tally.keeps, .tally.loses")`)
	return p
}
