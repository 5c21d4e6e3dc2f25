package browser

import (
	"context"
	"encoding/json"
	"fmt"
	"strings"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// frame is the time between two points of a drag: a hand on a screen of 60 Hz.
const frame = 16 * time.Millisecond

// dragSteps is how many points a drag has between its ends: about a fifth of a
// second, a quick but human move.
const dragSteps = 12

// point is a place in the page, in CSS pixels from its top left corner.
type point struct{ X, Y float64 }

// aim scrolls to the first element that matches a selector and returns its
// middle, once that is what a finger there would hit. It waits for the element
// to come, to stop moving and to be uncovered.
func (p *Page) aim(selector string) point {
	p.t.Helper()
	look := `(() => {
		const e = document.querySelector(` + quote(selector) + `);
		if (!e) return "nothing matches";
		e.scrollIntoView({block: "nearest", inline: "nearest", behavior: "instant"});
		const r = e.getBoundingClientRect();
		if (r.width === 0 || r.height === 0) return "it has no size";
		const at = {X: r.x + r.width / 2, Y: r.y + r.height / 2};
		const hit = document.elementFromPoint(at.X, at.Y);
		if (!hit) return "it lies outside the page";
		if (hit !== e && !e.contains(hit) && !hit.contains(e) && hit.closest("label")?.control !== e)
			return "it is covered by " + hit.outerHTML.slice(0, 200);
		return JSON.stringify(at);
	})()`
	ctx, cancel := context.WithTimeout(p.ctx, p.patience)
	defer cancel()
	tick := time.NewTicker(glance)
	defer tick.Stop()
	var before string
	for {
		seen, err := chromedp.Run(ctx, chromedp.Evaluate[string](look))
		if err == nil && seen == before && strings.HasPrefix(seen, "{") {
			var at point
			if err := json.Unmarshal([]byte(seen), &at); err != nil {
				p.fail("aim at "+selector, err)
			}
			return at
		}
		if err == nil {
			before = seen
		}
		select {
		case <-ctx.Done():
			p.fail("aim at "+selector, fmt.Errorf("%s within %s", before, p.patience))
		case <-tick.C:
		}
	}
}

// Click presses and lets go the left mouse button on an element.
func (p *Page) Click(selector string) {
	p.t.Helper()
	at := p.aim(selector)
	p.do("click "+selector,
		mouse(input.DispatchMouseEventTypeMouseMoved, at, 0),
		mouse(input.DispatchMouseEventTypeMousePressed, at, 1),
		mouse(input.DispatchMouseEventTypeMouseReleased, at, 0))
}

// MouseDrag presses on an element, moves by so many CSS pixels and lets go.
func (p *Page) MouseDrag(selector string, dx, dy float64) {
	p.t.Helper()
	from := p.aim(selector)
	p.do("press "+selector,
		mouse(input.DispatchMouseEventTypeMouseMoved, from, 0),
		mouse(input.DispatchMouseEventTypeMousePressed, from, 1))
	p.glide(from, dx, dy, func(at point) {
		p.do("drag "+selector, mouse(input.DispatchMouseEventTypeMouseMoved, at, 1))
	})
	p.do("let go "+selector, mouse(input.DispatchMouseEventTypeMouseReleased, point{from.X + dx, from.Y + dy}, 0))
}

// mouse is one event of the mouse; leftButton is 1 while it is held.
func mouse(kind input.DispatchMouseEventType, at point, leftButton int64) chromedp.Action[chromedp.Void] {
	params := input.DispatchMouseEventParams{Type: kind, X: at.X, Y: at.Y, Buttons: leftButton}
	if kind != input.DispatchMouseEventTypeMouseMoved {
		params.Button, params.ClickCount = input.MouseButtonLeft, 1
	} else if leftButton != 0 {
		params.Button = input.MouseButtonLeft
	}
	return command(input.DispatchMouseEvent, params)
}

// glide calls move at every frame on the way from a point, its end included.
func (p *Page) glide(from point, dx, dy float64, move func(point)) {
	tick := time.NewTicker(frame)
	defer tick.Stop()
	for i := 1; i <= dragSteps; i++ {
		<-tick.C
		part := float64(i) / dragSteps
		move(point{from.X + dx*part, from.Y + dy*part})
	}
}

// Tap touches an element and lets go.
func (p *Page) Tap(selector string) {
	p.t.Helper()
	p.Touch(selector).Lift()
}

// TouchDrag touches an element, moves by so many CSS pixels and lets go.
func (p *Page) TouchDrag(selector string, dx, dy float64) {
	p.t.Helper()
	finger := p.Touch(selector)
	finger.Move(dx, dy)
	finger.Lift()
}

// Finger is a finger on the screen, for tests of what happens while it is
// there.
type Finger struct {
	page *Page
	what string
	at   point
}

// Touch puts a finger on an element and leaves it there.
func (p *Page) Touch(selector string) *Finger {
	p.t.Helper()
	f := &Finger{page: p, what: selector, at: p.aim(selector)}
	p.do("touch "+selector, touch(input.DispatchTouchEventTypeTouchStart, f.at))
	return f
}

// Move moves the finger by so many CSS pixels, one point a frame.
func (f *Finger) Move(dx, dy float64) {
	f.page.t.Helper()
	f.page.glide(f.at, dx, dy, func(at point) {
		f.at = at
		f.page.do("move on "+f.what, touch(input.DispatchTouchEventTypeTouchMove, at))
	})
}

// Lift takes the finger away.
func (f *Finger) Lift() {
	f.page.t.Helper()
	f.page.do("lift from "+f.what, touch(input.DispatchTouchEventTypeTouchEnd))
}

// Cancel ends the touch as the phone does when it takes it for itself, for a
// call or a gesture of its own.
func (f *Finger) Cancel() {
	f.page.t.Helper()
	f.page.do("cancel on "+f.what, touch(input.DispatchTouchEventTypeTouchCancel))
}

// touch sends the touches that are now on the screen. Where there is none the
// list must be empty and not missing, or the browser refuses it.
func touch(kind input.DispatchTouchEventType, at ...point) chromedp.Action[chromedp.Void] {
	points := []*input.TouchPoint{}
	for _, a := range at {
		points = append(points, &input.TouchPoint{X: a.X, Y: a.Y})
	}
	return command(input.DispatchTouchEvent, input.DispatchTouchEventParams{Type: kind, TouchPoints: points})
}

// namedKeys are the keys that have a name instead of a character.
var namedKeys = map[string]string{
	"Enter": kb.Enter, "Escape": kb.Escape, "Tab": kb.Tab, "Backspace": kb.Backspace, "Delete": kb.Delete,
	"ArrowLeft": kb.ArrowLeft, "ArrowRight": kb.ArrowRight, "ArrowUp": kb.ArrowUp, "ArrowDown": kb.ArrowDown,
	"Home": kb.Home, "End": kb.End, "PageUp": kb.PageUp, "PageDown": kb.PageDown, "Space": " ",
}

var modifiers = map[string]chromedp.Modifier{
	"Shift": chromedp.ModifierShift, "Control": chromedp.ModifierCtrl, "Alt": chromedp.ModifierAlt, "Meta": chromedp.ModifierMeta,
}

// Key presses one key on whatever has the focus: a character, a name such as
// ArrowLeft, or either behind modifiers, as in Shift+Tab.
func (p *Page) Key(name string) {
	p.t.Helper()
	parts := strings.Split(name, "+")
	var held chromedp.Modifier
	for _, part := range parts[:len(parts)-1] {
		m, ok := modifiers[part]
		if !ok {
			p.t.Fatalf("browser: key %q: no modifier %q: Shift, Control, Alt or Meta", name, part)
		}
		held |= m
	}
	last := parts[len(parts)-1]
	key, ok := namedKeys[last]
	if !ok {
		key = last
	}
	if len([]rune(key)) != 1 {
		p.t.Fatalf("browser: key %q: no such key: a character or a name such as ArrowLeft", name)
	}
	p.do("key "+name, chromedp.KeyEvent(key, chromedp.KeyModifiers(held)))
}

// Fill clicks or taps into a text field and replaces what is in it.
func (p *Page) Fill(selector, text string) {
	p.t.Helper()
	p.aim(selector)
	p.do("fill "+selector, chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
		const choose = `(e => { e.focus(); e.select(); return document.activeElement === e; })`
		focused, err := chromedp.Evaluate[bool](choose+"(document.querySelector("+quote(selector)+"))")(ctx, t)
		if err != nil {
			return err
		}
		if !focused {
			return fmt.Errorf("it does not take the focus")
		}
		_, err = cdp.Call(ctx, t, input.InsertText, input.InsertTextParams{Text: text})
		return err
	}))
}

// ClickAt presses and lets go the left mouse button at a place of the page, in
// CSS pixels from its top left corner.
func (p *Page) ClickAt(x, y float64) {
	p.t.Helper()
	at := point{x, y}
	p.do(fmt.Sprintf("click at (%.0f, %.0f)", x, y),
		mouse(input.DispatchMouseEventTypeMouseMoved, at, 0),
		mouse(input.DispatchMouseEventTypeMousePressed, at, 1),
		mouse(input.DispatchMouseEventTypeMouseReleased, at, 0))
}
