package main

import "halfline/internal/rehearse/browser"

// gather is a room with three players, and the coach's page to picture.
func (s *studio) gather(device browser.View) (*room, *browser.Page) {
	r := s.open()
	r.squad()
	r.player(browser.PhoneSmall, "Rui", "22", "N")
	p := s.coach(device)
	p.WaitFor(`document.querySelector(".men").textContent.includes("22 Rui")`)
	return r, p
}

func freshDesk(s *studio, device browser.View) *browser.Page { return s.coach(device) }

func joined(s *studio, device browser.View) *browser.Page {
	_, p := s.gather(device)
	return p
}

func selectedMan(s *studio, device browser.View) *browser.Page {
	_, p := s.gather(device)
	press(p, ".men", "N")
	p.WaitFor(`document.querySelector('[data-who="N"].selected')`)
	return p
}

// flipped is the desk right after another call on the same look.
func flipped(s *studio, device browser.View) *browser.Page {
	_, p := s.gather(device)
	press(p, ".calls", "Quarters")
	p.WaitFor(`document.querySelector(".flip")`)
	return p
}

// motionAsked is the desk between the button and the tap on the field.
func motionAsked(s *studio, device browser.View) *browser.Page {
	_, p := s.gather(device)
	selectMan(p, "B")
	press(p, ".manbar", "Motion")
	p.WaitText("Tap where B goes")
	return p
}

func motionMade(s *studio, device browser.View) *browser.Page {
	_, p := s.gather(device)
	motion(p)
	return p
}

func frozenSound(s *studio, device browser.View) *browser.Page {
	r, p := s.gather(device)
	r.freeze()
	p.WaitText("Sound")
	return p
}

func frozenOpen(s *studio, device browser.View) *browser.Page {
	r, p := s.gather(device)
	r.freeze()
	r.overTheTop()
	p.WaitFor(`document.querySelector(".faults")?.textContent.includes("over the top")`)
	return p
}

// reveal opens one of the folded parts of the floor and brings it into view.
func reveal(p *browser.Page, part string) {
	browser.Eval[bool](p, `(document.querySelector(`+text(part)+`).open = true)`)
	browser.Eval[bool](p, `(document.querySelector(`+text(part)+`).scrollIntoView({block: "end"}), true)`)
}

func codeOpen(s *studio, device browser.View) *browser.Page {
	_, p := s.gather(device)
	reveal(p, ".floor .code")
	p.WaitFor(`document.querySelector(".floor .code .qr")`)
	reveal(p, ".floor .code")
	return p
}

func peopleOpen(s *studio, device browser.View) *browser.Page {
	_, p := s.gather(device)
	reveal(p, ".floor .people")
	return p
}

func someoneAtTheDoor(s *studio, device browser.View) *browser.Page {
	r, p := s.gather(device)
	press(r.desk, ".floor", "Knock")
	r.desk.WaitFor(`[...document.querySelectorAll('.floor [aria-pressed="true"]')].some(b => b.textContent === "Knock")`)
	r.knock(browser.PhoneSmall, "Ames", "31")
	p.WaitFor(`document.querySelector(".waiting")`)
	browser.Eval[bool](p, `(document.querySelector(".waiting").scrollIntoView({block: "center"}), true)`)
	return p
}

func keySheet(s *studio, device browser.View) *browser.Page {
	_, p := s.gather(device)
	p.Key("?")
	p.WaitFor(`document.querySelector(".keysheet")`)
	return p
}

func staleDesk(s *studio, device browser.View) *browser.Page {
	_, p := s.gather(device)
	s.cut(p)
	return p
}

// deskTab is one panel of the desk where there is room for one only.
func deskTab(name string) func(*studio, browser.View) *browser.Page {
	return func(s *studio, device browser.View) *browser.Page {
		_, p := s.gather(device)
		press(p, ".tabs", name)
		return p
	}
}

func frozenTab(s *studio, device browser.View) *browser.Page {
	p := frozenOpen(s, device)
	press(p, ".tabs", "Rep")
	return p
}

func inHandOnPhone(s *studio, device browser.View) *browser.Page {
	_, p := s.gather(device)
	press(p, ".men", "N")
	p.WaitFor(`document.querySelector('[data-who="N"].selected')`)
	return p
}

// wallWith is the projector over a room with three players.
func (s *studio) wallWith(device browser.View) (*room, *browser.Page) {
	r, _ := s.gather(browser.Laptop)
	p := s.wall(device)
	p.WaitText("of 3 keep")
	p.WaitFor(`document.querySelector(".joinbox .qr")`)
	return r, p
}

func liveWall(s *studio, device browser.View) *browser.Page {
	_, p := s.wallWith(device)
	return p
}

func hiddenWall(s *studio, device browser.View) *browser.Page {
	r, p := s.wallWith(device)
	press(r.desk, ".floor", "Hide answers")
	p.WaitText("committed")
	return p
}

func frozenWall(s *studio, device browser.View) *browser.Page {
	r, p := s.wallWith(device)
	r.freeze()
	r.overTheTop()
	p.WaitFor(`[...document.querySelectorAll("svg text")].some(e => e.textContent.includes("open"))`)
	return p
}

func staleWall(s *studio, device browser.View) *browser.Page {
	_, p := s.wallWith(device)
	s.cut(p)
	p.WaitText("not live")
	return p
}

// restsOnDesk is the same on the coach's page, for the man in his hand.
func restsOnDesk(s *studio, device browser.View) *browser.Page {
	p := selectedMan(s, device)
	openRests(p)
	return p
}
