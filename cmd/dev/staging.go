package main

import (
	"encoding/json"
	"fmt"

	"halfline/internal/rehearse/browser"
)

// room is a session under way: the desk it is led from, and the code of its
// door. The page that is pictured is opened beside the desk.
type room struct {
	*studio
	desk *browser.Page
	code string
}

// open starts a session with a look and a call that every answer is right in.
func (s *studio) open() *room {
	r := &room{studio: s, desk: s.coach(browser.Laptop)}
	press(r.desk, ".looks", "Twins right, middle")
	press(r.desk, ".calls", "Two-read")
	r.readCode()
	return r
}

// readCode takes the code from the coach's page.
func (r *room) readCode() {
	r.desk.WaitFor(`document.querySelector(".joincode b")?.textContent.length > 5`)
	r.code = r.desk.Text(".joincode b")
}

// coach opens the coach's link.
func (s *studio) coach(device browser.View) *browser.Page {
	link, err := s.product.coach()
	if err != nil {
		s.tb.Fatalf("%v", err)
	}
	p := s.page(device)
	p.Goto(link)
	p.WaitFor(`document.querySelector(".coach .board svg")`)
	return p
}

// knock joins by the code, without waiting for what the door says.
func (r *room) knock(device browser.View, name, number string) *browser.Page {
	p := r.page(device)
	r.join(p, name, number)
	return p
}

func (r *room) join(p *browser.Page, name, number string) {
	p.Goto(r.product.origin + "/#join=" + r.code)
	p.Fill(`input[maxlength="12"]`, name)
	p.Fill(`input[maxlength="3"]`, number)
	submit(p)
}

// player joins and takes a spot.
func (r *room) player(device browser.View, name, number, spot string) *browser.Page {
	p := r.knock(device, name, number)
	press(p, ".spots", spot)
	p.WaitFor(`document.querySelector(".bar h1")?.textContent.startsWith(` + text(spot) + `)`)
	return p
}

// nickel is the player whose phone is pictured, and his answer.
func (r *room) nickel(device browser.View, head string) *browser.Page {
	p := r.player(device, "Rui", "22", "N")
	answer(p, head)
	return p
}

// squad are the two others, whose phones are not pictured.
func (r *room) squad() {
	r.player(browser.PhoneSmall, "Bly", "4", "C")
	r.player(browser.PhoneSmall, "Ode", "7", "FS")
}

// freeze stops a play of the look's menu as the carrier commits.
func (r *room) freeze() {
	press(r.desk, ".moment", "Toss")
	press(r.desk, ".moment", "Freeze")
	r.desk.WaitText("Sound")
}

// overTheTop drags the nickel past his blocker on the wrong side.
func (r *room) overTheTop() {
	drag(r.desk, "N", 2)
	r.desk.WaitFor(`document.querySelector(".faults").textContent.includes("over the top")`)
}

// motion sends the back outside the slot: the count of the receivers changes.
func motion(p *browser.Page) {
	selectMan(p, "B")
	press(p, ".manbar", "Motion")
	k := scaleOf(p)
	p.ClickAt(k.X+14.5*k.Out*k.Yard, k.Y-2.5*k.Deep*k.Yard)
	p.WaitFor(`[...document.querySelectorAll('[data-who="B"] .numeral')].some(e => e.textContent.includes("#2"))`)
}

// wall opens the projector's page, as the coach's link on his page does.
func (s *studio) wall(device browser.View) *browser.Page {
	p := s.coach(device)
	p.Goto(s.product.origin + "/" + browser.Eval[string](p, `document.querySelector('a[href^="#wall="]').getAttribute("href")`))
	p.WaitFor(`document.querySelector(".wall .board svg")`)
	return p
}

// cut kills the server and waits until a page says so.
func (s *studio) cut(p *browser.Page) {
	for _, page := range s.pages {
		page.AllowErrors("WebSocket", "ERR_CONNECTION")
	}
	if err := s.product.kill(); err != nil {
		s.tb.Fatalf("kill the server: %v", err)
	}
	p.WaitFor(`document.querySelector(".stale")`)
}

// submit sends the form of the join page.
func submit(p *browser.Page) {
	p.WaitFor(`!document.querySelector("form .strong").disabled`)
	browser.Eval[bool](p, `(document.querySelector("form").requestSubmit(), true)`)
}

// answer waits until the answer line of a phone begins so.
func answer(p *browser.Page, head string) {
	p.WaitFor(`document.querySelector(".answer .head")?.textContent.startsWith(` + text(head) + `)`)
}

// press clicks the button whose text begins so, in a part of the page. It does
// so without a pointer: none shall hover in the picture, and what a pointer
// can hit is the tests' business.
func press(p *browser.Page, within, begins string) {
	find := fmt.Sprintf(`[...document.querySelectorAll(%s)].find(b => b.textContent.trim().startsWith(%s))`,
		text(within+" button"), text(begins))
	p.WaitFor(find)
	browser.Eval[bool](p, "("+find+".click(), true)")
}

// selectMan takes a man in hand.
func selectMan(p *browser.Page, who string) {
	p.Click(fmt.Sprintf(`[data-who=%q] .tag`, who))
	p.WaitFor(fmt.Sprintf(`document.querySelector('[data-who=%q].selected')`, who))
}

// drag moves a man so many yards away from the ball with the mouse.
func drag(p *browser.Page, who string, out float64) {
	k := scaleOf(p)
	p.MouseDrag(fmt.Sprintf(`[data-who=%q] .tag`, who), out*k.Out*k.Yard, 0)
}

// scale says where the ball's snapper is on a page, how many CSS pixels a yard
// is, and which ways on the screen are outside and deeper: 1 or -1.
type scale struct{ Yard, Out, Deep, X, Y float64 }

// scaleOf measures a page's board by men whose places the look gives: the
// passer stands 5 yd behind the snapper, Z outside of him.
func scaleOf(p *browser.Page) scale {
	const measure = `(() => {
		const at = w => { const r = document.querySelector('[data-who="' + w + '"] .reach').getBoundingClientRect(); return [r.x + r.width / 2, r.y + r.height / 2]; };
		const q = at("Q"), sn = at("SN"), z = at("Z");
		return JSON.stringify({Yard: Math.hypot(q[0] - sn[0], q[1] - sn[1]) / 5, Out: Math.sign(z[0] - sn[0]), Deep: Math.sign(sn[1] - q[1]), X: sn[0], Y: sn[1]});
	})()`
	var k scale
	if err := json.Unmarshal([]byte(browser.Eval[string](p, measure)), &k); err != nil {
		panic(err) // the page itself wrote it a line above
	}
	return k
}

// text writes a Go string as a JavaScript one: JSON is a part of the language.
func text(s string) string {
	t, err := json.Marshal(s)
	if err != nil {
		panic(err) // no string is without a JSON form
	}
	return string(t)
}
