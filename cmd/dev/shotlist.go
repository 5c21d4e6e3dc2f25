package main

import "halfline/internal/rehearse/browser"

// Where a view is looked at.
var (
	onPhones = []string{"phone", "phone-small"}
	onPhone  = []string{"phone"}
	onLaptop = []string{"laptop"}
	onDesks  = []string{"laptop", "tablet"}
	onWalls  = []string{"wall", "laptop"}
)

// shots are all pictures that the chore takes, in the order in which a
// practice goes. Their stages are in stages_*.go.
var shots = []shot{
	{"home", "join", []string{"phone", "phone-small", "phone-wide", "laptop"}, joinPage},
	{"home", "wrong-code", onPhones, wrongCode},
	{"home", "sessions", []string{"laptop", "phone"}, sessionList},

	{"phone", "waiting", onPhones, waitingAtTheDoor},
	{"phone", "no-spot", onPhones, noSpot},
	{"phone", "keeps", []string{"phone", "phone-small", "phone-wide", "tablet"}, keeps},
	{"phone", "contested", onPhones, contested},
	{"phone", "loses", []string{"phone", "phone-small", "phone-wide"}, loses},
	{"phone", "why", onPhones, why},
	{"phone", "rests", onPhones, rests},
	{"phone", "watching", onPhones, watching},
	{"phone", "hidden", onPhones, hiddenAnswers},
	{"phone", "banner", onPhones, motionBanner},
	{"phone", "frozen-fault", []string{"phone", "phone-small", "phone-wide"}, frozenFault},
	{"phone", "rep", []string{"phone", "phone-small", "phone-wide"}, repOnPhone},
	{"phone", "rep-fault", []string{"phone", "phone-small", "phone-wide"}, repFault},
	{"phone", "stale", onPhones, stalePhone},
	{"phone", "menu", []string{"phone", "phone-small", "phone-wide"}, menu},
	{"phone", "removed", onPhone, removed},

	{"coach", "start", onDesks, freshDesk},
	{"coach", "joined", onDesks, joined},
	{"coach", "selected", onDesks, selectedMan},
	{"coach", "rests", onDesks, restsOnDesk},
	{"coach", "flipped", onLaptop, flipped},
	{"coach", "motion", onDesks, motionAsked},
	{"coach", "moved", onLaptop, motionMade},
	{"coach", "frozen-sound", onDesks, frozenSound},
	{"coach", "frozen-open", onDesks, frozenOpen},
	{"coach", "rep", onDesks, repOnDesk},
	{"coach", "rep-end", onDesks, repEnd},
	{"coach", "rep-man", onDesks, repMan},
	{"coach", "code", onDesks, codeOpen},
	{"coach", "people", onDesks, peopleOpen},
	{"coach", "door", onLaptop, someoneAtTheDoor},
	{"coach", "keys", onDesks, keySheet},
	{"coach", "stale", onLaptop, staleDesk},
	{"coach", "look", onPhones, deskTab("Look")},
	{"coach", "call", onPhone, deskTab("Call")},
	{"coach", "men", []string{"phone", "phone-small", "phone-wide"}, deskTab("Men")},
	{"coach", "moment", []string{"phone", "phone-small", "phone-wide"}, frozenTab},
	{"coach", "rep-tab", []string{"phone", "phone-small", "phone-wide"}, repTab(repOnDesk)},
	{"coach", "rep-end-tab", onPhones, repTab(repEnd)},
	{"coach", "floor", onPhones, deskTab("Floor")},
	{"coach", "inhand", []string{"phone", "phone-small", "phone-wide"}, inHandOnPhone},

	{"wall", "live", onWalls, liveWall},
	{"wall", "hidden", []string{"wall"}, hiddenWall},
	{"wall", "frozen", onWalls, frozenWall},
	{"wall", "rep", onWalls, repOnWall},
	{"wall", "rep-end", []string{"wall"}, repEndOnWall},
	{"wall", "stale", []string{"wall"}, staleWall},
}

// joinPage is what a player sees who opens the printed address.
func joinPage(s *studio, device browser.View) *browser.Page {
	p := s.page(device)
	p.Goto(s.product.origin)
	p.WaitText("Join the board")
	return p
}

// wrongCode is the refusal of a code that opens nothing.
func wrongCode(s *studio, device browser.View) *browser.Page {
	p := s.page(device)
	p.AllowErrors("Failed to load resource")
	p.Goto(s.product.origin + "/#join=ABC234")
	p.Fill(`input[maxlength="12"]`, "Rui")
	p.Fill(`input[maxlength="3"]`, "22")
	submit(p)
	p.WaitFor(`document.querySelector(".error:not(:empty)")`)
	return p
}

// sessionList is the coach's list once there is more than one session.
func sessionList(s *studio, device browser.View) *browser.Page {
	p := s.coach(device)
	browser.Eval[bool](p, `(document.querySelector('[aria-label="All sessions"]').click(), true)`)
	p.WaitText("Start another")
	press(p, ".home", "Start another")
	p.WaitFor(`document.querySelector(".coach .board svg")`)
	browser.Eval[bool](p, `(document.querySelector('[aria-label="All sessions"]').click(), true)`)
	p.WaitFor(`document.querySelectorAll(".pick li").length > 1`)
	return p
}
