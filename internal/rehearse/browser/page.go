package browser

import (
	"context"
	"encoding/json"
	"fmt"
	"strings"
	"time"

	"github.com/chromedp/cdproto/cdp"
	cdplog "github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/cdproto/performance"
	"github.com/chromedp/chromedp"
)

// Page is one person's view. One goroutine uses it at a time.
type Page struct {
	t        TB
	ctx      context.Context
	close    context.CancelFunc
	patience time.Duration
	log      record
}

// Nothing is the type of an expression whose value does not matter.
type Nothing = chromedp.Void

// command wraps a command of the browser's protocol as a step.
func command[P, R any](cmd cdp.Command[P, R], params P) chromedp.Action[chromedp.Void] {
	return chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
		_, err := cdp.Call(ctx, t, cmd, params)
		return err
	})
}

// Page opens an empty page on a device. It closes when the test ends, and the
// test then fails if the page reported errors that nobody allowed.
func (b *Browser) Page(t TB, v View) *Page {
	t.Helper()
	p := &Page{t: t, patience: patience}
	p.ctx, p.close = chromedp.NewContext(b.ctx, chromedp.WithNewBrowserContext(), chromedp.WithListener(p.log.take))
	t.Cleanup(func() {
		p.Close()
		for _, text := range p.log.unexpected() {
			t.Errorf("browser: console: %s", text)
		}
	})
	steps := append([]chromedp.Action[chromedp.Void]{
		command(network.Enable, network.EnableParams{}),
		command(cdplog.Enable, cdp.Empty{}),
		command(performance.Enable, performance.EnableParams{}),
	}, v.emulate()...)
	if err := chromedp.Do(p.ctx, steps...); err != nil { // no time limit: see Start
		t.Fatalf("browser: new page: %v", err)
	}
	return p
}

// WithPatience changes how long any single thing may take on this page.
func (p *Page) WithPatience(d time.Duration) *Page {
	p.patience = d
	return p
}

// Close closes the page before the test's end, as a player puts his phone away.
func (p *Page) Close() { p.close() }

// Resize turns the page into another device's, as turning a phone does.
func (p *Page) Resize(v View) {
	p.t.Helper()
	p.do("resize", v.emulate()...)
}

// do runs steps within the patience, and fails the test if one fails.
func (p *Page) do(what string, steps ...chromedp.Action[chromedp.Void]) {
	p.t.Helper()
	ctx, cancel := context.WithTimeout(p.ctx, p.patience)
	defer cancel()
	if err := chromedp.Do(ctx, steps...); err != nil {
		p.fail(what, err)
	}
}

// fail ends the test, saying where the page stood.
func (p *Page) fail(what string, err error) {
	p.t.Helper()
	p.t.Fatalf("browser: %s: %v\n%s", what, err, p.where())
}

// where describes the page for a failure: its address, its text, its errors.
func (p *Page) where() string {
	ctx, cancel := context.WithTimeout(p.ctx, patience/10)
	defer cancel()
	state, err := chromedp.Run(ctx, chromedp.Evaluate[string](`location.href + "\n" + (document.body ? document.body.innerText : "no body")`))
	if err != nil {
		state = fmt.Sprintf("the page does not answer: %v", err)
	}
	const most = 2000 // characters; a failure must stay readable
	if len(state) > most {
		state = state[:most] + " ..."
	}
	return "page: " + state + "\nconsole: " + strings.Join(p.log.errors(), "\n         ")
}

// Goto opens an address and waits until it has loaded.
func (p *Page) Goto(url string) {
	p.t.Helper()
	p.do("open "+url, chromedp.Navigate(url))
}

// Reload loads the page again, as pulling it down does.
func (p *Page) Reload() {
	p.t.Helper()
	p.do("reload", chromedp.Reload())
}

// Eval evaluates an expression in the page, waits for it if it is a promise,
// and returns its value.
func Eval[T any](p *Page, expression string) T {
	p.t.Helper()
	ctx, cancel := context.WithTimeout(p.ctx, p.patience)
	defer cancel()
	value, err := chromedp.Run(ctx, chromedp.Evaluate[T](expression, chromedp.EvalAwaitPromise))
	if err != nil {
		p.fail("evaluate "+expression, err)
	}
	return value
}

// glance is the time between two looks at a page that is waited for: about a
// frame, since nothing on a page changes faster.
const glance = 16 * time.Millisecond

// WaitFor waits until an expression is true in the page. It looks from
// outside, and so it also works in a page that is hidden or on its way to
// another address; an expression that throws counts as false.
func (p *Page) WaitFor(expression string) {
	p.t.Helper()
	if err := p.wait(expression); err != nil {
		p.fail("wait for "+expression, err)
	}
}

func (p *Page) wait(expression string) error {
	ctx, cancel := context.WithTimeout(p.ctx, p.patience)
	defer cancel()
	tick := time.NewTicker(glance)
	defer tick.Stop()
	guarded := "(() => { try { return Boolean(" + expression + "); } catch { return false; } })()"
	for {
		ok, err := chromedp.Run(ctx, chromedp.Evaluate[bool](guarded))
		if err == nil && ok {
			return nil
		}
		select {
		case <-ctx.Done():
			if err == nil || ctx.Err() == context.DeadlineExceeded {
				err = fmt.Errorf("not so within %s", p.patience)
			}
			return err
		case <-tick.C:
		}
	}
}

// WaitText waits until the page shows a text.
func (p *Page) WaitText(text string) {
	p.t.Helper()
	p.WaitFor("document.body.innerText.includes(" + quote(text) + ")")
}

// WaitGone waits until nothing matches a selector.
func (p *Page) WaitGone(selector string) {
	p.t.Helper()
	p.WaitFor("document.querySelector(" + quote(selector) + ") === null")
}

// Text is the text shown by the first element that matches a selector; it
// waits for one.
func (p *Page) Text(selector string) string {
	p.t.Helper()
	p.WaitFor("document.querySelector(" + quote(selector) + ")")
	return Eval[string](p, "(e => e.innerText ?? e.textContent)(document.querySelector("+quote(selector)+"))")
}

// Freeze does to the page what a phone does in a pocket: it hides it and stops
// its timers. Thaw wakes it.
func (p *Page) Freeze() {
	p.t.Helper()
	p.do("freeze", command(page.SetWebLifecycleState, page.SetWebLifecycleStateParams{State: page.SetWebLifecycleStateStateFrozen}))
}

// Thaw wakes a frozen page.
func (p *Page) Thaw() {
	p.t.Helper()
	p.do("thaw", command(page.SetWebLifecycleState, page.SetWebLifecycleStateParams{State: page.SetWebLifecycleStateStateActive}))
}

// Metrics are the browser's own counts of its work, such as LayoutCount and
// RecalcStyleCount. Unlike times they are the same on a busy machine.
func (p *Page) Metrics() map[string]float64 {
	p.t.Helper()
	counts := map[string]float64{}
	p.do("metrics", chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
		result, err := cdp.Call(ctx, t, performance.GetMetrics, cdp.Empty{})
		if err != nil {
			return err
		}
		for _, m := range result.Metrics {
			counts[m.Name] = m.Value
		}
		return nil
	}))
	return counts
}

// quote writes a Go string as a JavaScript one: JSON is a part of the language.
func quote(s string) string {
	text, err := json.Marshal(s)
	if err != nil {
		panic(err) // no string is without a JSON form
	}
	return string(text)
}
