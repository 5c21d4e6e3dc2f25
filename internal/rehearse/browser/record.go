package browser

import (
	"net/url"
	"slices"
	"strings"
	"sync"

	cdplog "github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/runtime"
)

// Request is one request that a page made.
type Request struct {
	URL    string
	Kind   string // Document, Script, Stylesheet, WebSocket ...
	Status int64  // 0 until the answer came
	Bytes  int64  // received on the wire, headers included, as compressed as it came
	Failed string // why no answer came, if none did
}

// record keeps what a page reports. The browser's reader writes it while the
// test reads it.
type record struct {
	mu       sync.Mutex
	requests []Request                 // guarded by mu
	open     map[network.RequestID]int // guarded by mu; the place in requests
	console  []string                  // guarded by mu
	allowed  []string                  // guarded by mu
}

// take is called for every event, in order; it must be fast.
func (r *record) take(event any) {
	r.mu.Lock()
	defer r.mu.Unlock()
	switch e := event.(type) {
	case *network.EventRequestWillBeSent:
		r.begin(e.RequestID, Request{URL: e.Request.URL, Kind: string(e.Type)})
	case *network.EventWebSocketCreated:
		r.begin(e.RequestID, Request{URL: e.URL, Kind: "WebSocket"})
	case *network.EventResponseReceived:
		r.change(e.RequestID, func(q *Request) { q.Status = e.Response.Status })
	case *network.EventWebSocketHandshakeResponseReceived:
		r.change(e.RequestID, func(q *Request) { q.Status = e.Response.Status })
	case *network.EventLoadingFinished:
		r.change(e.RequestID, func(q *Request) { q.Bytes = int64(e.EncodedDataLength) })
	case *network.EventLoadingFailed:
		r.change(e.RequestID, func(q *Request) { q.Failed = e.ErrorText })
	case *runtime.EventConsoleAPICalled:
		if e.Type == runtime.ConsoleAPICalledTypeError || e.Type == runtime.ConsoleAPICalledTypeAssert {
			r.console = append(r.console, spoken(e.Args))
		}
	case *runtime.EventExceptionThrown:
		text := e.ExceptionDetails.Text
		if thrown := e.ExceptionDetails.Exception; thrown != nil {
			text += " " + spoken([]*runtime.RemoteObject{thrown})
		}
		r.console = append(r.console, text)
	case *cdplog.EventEntryAdded:
		if e.Entry.Level == cdplog.EntryLevelError {
			r.console = append(r.console, strings.TrimSpace(e.Entry.Text+" "+e.Entry.URL))
		}
	}
}

func (r *record) begin(id network.RequestID, q Request) {
	if r.open == nil {
		r.open = map[network.RequestID]int{}
	}
	r.open[id] = len(r.requests) // a redirect goes on under the same id as a request of its own
	r.requests = append(r.requests, q)
}

func (r *record) change(id network.RequestID, with func(*Request)) {
	if i, ok := r.open[id]; ok {
		with(&r.requests[i])
	}
}

// spoken is what the console would show of the arguments of a call.
func spoken(args []*runtime.RemoteObject) string {
	var words []string
	for _, a := range args {
		switch {
		case a.Description != "":
			words = append(words, a.Description)
		case len(a.Value) > 0:
			words = append(words, strings.Trim(string(a.Value), `"`))
		default:
			words = append(words, string(a.Type))
		}
	}
	return strings.Join(words, " ")
}

func (r *record) errors() []string {
	r.mu.Lock()
	defer r.mu.Unlock()
	return slices.Clone(r.console)
}

// unexpected are the console errors that hold none of the allowed texts.
func (r *record) unexpected() []string {
	r.mu.Lock()
	defer r.mu.Unlock()
	return slices.DeleteFunc(slices.Clone(r.console), func(text string) bool {
		return slices.ContainsFunc(r.allowed, func(part string) bool { return strings.Contains(text, part) })
	})
}

// AllowErrors expects console errors that hold one of the given texts. A cut
// link, for one, is reported by the browser itself.
func (p *Page) AllowErrors(parts ...string) {
	p.log.mu.Lock()
	defer p.log.mu.Unlock()
	p.log.allowed = append(p.log.allowed, parts...)
}

// ConsoleErrors are the errors so far, allowed or not: calls of console.error,
// exceptions that nobody caught, and what the browser reports itself.
func (p *Page) ConsoleErrors() []string { return p.log.errors() }

// Requests are the requests so far, in the order they were made. Pictures and
// style sheets inside the page itself (data: and blob:) are left out: they
// cost no transfer.
func (p *Page) Requests() []Request {
	p.log.mu.Lock()
	defer p.log.mu.Unlock()
	return slices.DeleteFunc(slices.Clone(p.log.requests), func(q Request) bool {
		return strings.HasPrefix(q.URL, "data:") || strings.HasPrefix(q.URL, "blob:")
	})
}

// Strangers are the requested addresses whose host and port are not those of
// origin. A product that players open may ask nobody else for anything.
func (p *Page) Strangers(origin string) []string {
	p.t.Helper()
	home, err := url.Parse(origin)
	if err != nil || home.Host == "" {
		p.t.Fatalf("browser: strangers: %q is no origin: give http://HOST:PORT", origin)
	}
	var strangers []string
	for _, q := range p.Requests() {
		if at, err := url.Parse(q.URL); err != nil || at.Host != home.Host {
			strangers = append(strangers, q.URL)
		}
	}
	return strangers
}
