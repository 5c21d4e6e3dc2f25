package browser

import (
	"context"
	"time"

	"github.com/chromedp/chromedp"
)

// TB is what the kit needs of a test; *testing.T has it, and so can a program
// that takes pictures.
type TB interface {
	Helper()
	Cleanup(func())
	Logf(format string, args ...any)
	Errorf(format string, args ...any)
	Fatalf(format string, args ...any)
}

// LANHost is a name that every page finds at 127.0.0.1. Opened by it, a server
// is seen as phones see it in a gym: by plain http, in no secure context,
// where the browser leaves out wake locks, service workers and the clipboard.
// By 127.0.0.1 or localhost it would count as secure.
const LANHost = "board.test"

// hostRules let a page reach this machine and nothing else.
const hostRules = "MAP " + LANHost + " 127.0.0.1, MAP * ~NOTFOUND, EXCLUDE 127.0.0.1, EXCLUDE localhost"

// patience is how long any single thing may take. A loaded machine of two
// processors needs seconds now and then; a page that hangs stays hung.
const patience = 30 * time.Second

// closing is how long the browser may take to go away by itself.
const closing = 10 * time.Second

// Browser is one running browser; its pages run side by side.
type Browser struct {
	ctx context.Context
}

// Start opens the browser and closes it when the test ends.
func Start(t TB) *Browser {
	t.Helper()
	path, err := Executable()
	if err != nil {
		t.Fatalf("browser: %v", err)
	}
	flags := append(chromedp.DefaultExecAllocatorOptions[:],
		chromedp.ExecPath(path),
		chromedp.NoSandbox, // the sandbox needs rights that containers do not give
		chromedp.DisableGPU,
		chromedp.Flag("disable-quic", true),
		chromedp.Flag("disable-component-update", true),
		chromedp.Flag("host-resolver-rules", hostRules),
	)
	allocator, stop := chromedp.NewExecAllocator(context.Background(), flags...)
	ctx, cancel := chromedp.NewContext(allocator, quiet()...)
	t.Cleanup(func() {
		polite, done := context.WithTimeout(ctx, closing)
		defer done()
		if err := chromedp.Cancel(polite); err != nil {
			t.Logf("browser: closing: %v", err)
		}
		cancel()
		stop()
	})
	// This first command binds the browser's life to its context, so it must
	// have no time limit of its own.
	if err := chromedp.Do(ctx); err != nil {
		t.Fatalf("browser: %s does not start: %v", path, err)
	}
	return &Browser{ctx: ctx}
}

// quiet keeps the driver's own remarks out of the test's log: it complains
// about events of newer browsers that it does not know.
func quiet() []chromedp.ContextOption {
	drop := func(string, ...any) {}
	return []chromedp.ContextOption{chromedp.WithLogf(drop), chromedp.WithErrorf(drop), chromedp.WithDebugf(drop)}
}
