package main

import "halfline/internal/rehearse/browser"

// waitingAtTheDoor is a player whom the coach has not let in yet.
func waitingAtTheDoor(s *studio, device browser.View) *browser.Page {
	r := s.open()
	press(r.desk, ".floor", "Knock")
	r.desk.WaitFor(`[...document.querySelectorAll('.floor [aria-pressed="true"]')].some(b => b.textContent === "Knock")`)
	p := r.knock(device, "Rui", "22")
	p.WaitText("Waiting for the coach")
	return p
}

// noSpot is the choice of a spot, one of them taken.
func noSpot(s *studio, device browser.View) *browser.Page {
	r := s.open()
	r.player(browser.PhoneSmall, "Bly", "4", "C")
	p := r.knock(device, "Rui", "22")
	p.WaitText("has it")
	return p
}

func keeps(s *studio, device browser.View) *browser.Page {
	return s.open().nickel(device, "Keeps")
}

// contested walks the nickel toward the ball, half a yard at a time, until the
// race is even.
func contested(s *studio, device browser.View) *browser.Page {
	p := s.open().nickel(device, "Keeps")
	const line = `document.querySelector(".answer").textContent`
	for range 12 {
		before := browser.Eval[string](p, line)
		browser.Eval[bool](p, `(document.querySelector('button[aria-label="Half a yard in"]').click(), true)`)
		p.WaitFor(line + " !== " + text(before))
		if browser.Eval[bool](p, line+`.startsWith("Contested")`) {
			return p
		}
	}
	s.tb.Fatalf("no half yard on the nickel's way inside is contested")
	return p
}

// loses is the same place under a call that wants him elsewhere.
func loses(s *studio, device browser.View) *browser.Page {
	r := s.open()
	p := r.nickel(device, "Keeps")
	press(r.desk, ".calls", "Quarters")
	answer(p, "Loses")
	return p
}

// why is a line of the card opened.
func why(s *studio, device browser.View) *browser.Page {
	p := keeps(s, device)
	press(p, ".card", "Hat")
	p.WaitFor(`document.querySelector(".why")`)
	browser.Eval[bool](p, `(document.querySelector(".why").scrollIntoView({block: "end"}), true)`)
	return p
}

// watching is a phone while only the coach moves men.
func watching(s *studio, device browser.View) *browser.Page {
	r := s.open()
	p := r.nickel(device, "Keeps")
	press(r.desk, ".floor", "Only me")
	p.WaitFor(`document.querySelector(".watch")`)
	return p
}

// hiddenAnswers is a phone that shows no verdict before its player commits.
func hiddenAnswers(s *studio, device browser.View) *browser.Page {
	r := s.open()
	p := r.nickel(device, "Keeps")
	press(r.desk, ".floor", "Hide answers")
	p.WaitFor(`document.querySelector(".commit")`)
	return p
}

// motionBanner is the moment when motion has changed who is #2.
func motionBanner(s *studio, device browser.View) *browser.Page {
	r := s.open()
	p := r.nickel(device, "Keeps")
	motion(r.desk)
	p.WaitFor(`document.querySelector(".banner").textContent.includes("#2 is B")`)
	return p
}

// frozenFault is the phone of the man whom the frozen moment finds at fault.
func frozenFault(s *studio, device browser.View) *browser.Page {
	r := s.open()
	r.squad()
	p := r.nickel(device, "Keeps")
	r.freeze()
	r.overTheTop()
	answer(p, "Over the top")
	return p
}

// stalePhone is a phone after the server has died.
func stalePhone(s *studio, device browser.View) *browser.Page {
	p := s.open().nickel(device, "Keeps")
	s.cut(p)
	return p
}

func menu(s *studio, device browser.View) *browser.Page {
	p := keeps(s, device)
	browser.Eval[bool](p, `(document.querySelector(".dots").click(), true)`)
	p.WaitFor(`document.querySelector(".menu")`)
	return p
}

// removed is a player whom the coach has taken out of the session.
func removed(s *studio, device browser.View) *browser.Page {
	r := s.open()
	p := r.nickel(device, "Keeps")
	press(r.desk, ".people", "Out")
	p.WaitFor(`document.querySelector(".home h1")`)
	return p
}

// rests is what the nickel's numbers rest on, opened.
func rests(s *studio, device browser.View) *browser.Page {
	p := keeps(s, device)
	openRests(p)
	return p
}

func openRests(p *browser.Page) {
	p.Click(".rests summary")
	p.WaitFor(`document.querySelector(".rests ul")?.textContent.includes("Change:")`)
	browser.Eval[bool](p, `document.querySelector(".rests").scrollIntoView(); true`)
}
