package main

import (
	"context"
	"fmt"
	"io"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"time"

	"halfline/internal/rehearse/browser"
)

// storyName is what the two figures of the whole product are called on the
// command line; they are no benchmarks of Go's kind.
const storyName = "story"

// storyFigures are the costs that people meet before anything else.
type storyFigures struct {
	load    []browser.Request // of the player's page, to his first verdict
	clone   time.Duration     // git clone
	build   time.Duration     // go build, module and build cache as they are
	verdict time.Duration     // from the server's start to the verdict on the phone
}

// runStory measures them: it clones the repository, builds the clone, starts
// it, and joins with one phone. What is not committed is not measured.
func (s *shop) runStory(ctx context.Context) (storyFigures, error) {
	var f storyFigures
	dir, err := os.MkdirTemp("", "halfline-story-")
	if err != nil {
		return f, machine(storyName, err, "free the temporary folder")
	}
	defer os.RemoveAll(dir)
	tree := filepath.Join(dir, "halfline")

	began := time.Now()
	// --no-local copies as over a network, instead of linking files.
	if err := s.quiet(ctx, storyName, "run inside a clone of the repository", dir, "git", "clone", "--quiet", "--no-local", s.root, tree); err != nil {
		return f, err
	}
	f.clone = time.Since(began)
	began = time.Now()
	binary := filepath.Join(dir, "bin")
	if err := s.quiet(ctx, storyName, "mend what it names above", tree, "go", "build", "-o", binary, "./cmd/halfline"); err != nil {
		return f, err
	}
	f.build = time.Since(began)

	// The browser is the phone's and no part of the story: it is opened before.
	var started error
	err = browser.Outside(func(tb browser.TB) {
		b := browser.Start(tb)
		desk, phone := b.Page(tb, browser.Laptop), b.Page(tb, browser.Phone)
		began := time.Now()
		var p *product
		if p, started = s.startProduct(ctx, binary); started != nil {
			return
		}
		tb.Cleanup(func() {
			if err := p.stop(); err != nil {
				tb.Errorf("%v", err)
			}
		})
		f.load = firstVerdict(&studio{tb: tb, browser: b, product: p}, desk, phone)
		f.verdict = time.Since(began)
	})
	if started != nil {
		return f, started
	}
	if err != nil {
		return f, no(storyName, err.Error(), "mend the way to the first verdict")
	}
	return f, nil
}

// firstVerdict is the shortest way from nothing to an answer: the coach opens
// his link, a player types the code and takes a spot. The requests are the
// phone's.
func firstVerdict(s *studio, desk, phone *browser.Page) []browser.Request {
	link, err := s.product.coach()
	if err != nil {
		s.tb.Fatalf("%v", err)
	}
	desk.Goto(link)
	r := &room{studio: s, desk: desk}
	press(desk, ".looks", "Twins right, middle")
	press(desk, ".calls", "Two-read")
	r.readCode()
	r.join(phone, "Rui", "22")
	press(phone, ".spots", "N")
	answer(phone, "Keeps")
	return phone.Requests()
}

// storyLines prints the figures as two lines of a Markdown list.
func storyLines(w io.Writer, f storyFigures) {
	files, asked := loaded(f.load)
	var bytes int64
	for _, q := range files {
		bytes += q.Bytes
	}
	fmt.Fprintf(w, "* First load of the player's page: %d requests, %.1f kB compressed, headers included; then %s.\n",
		len(files), float64(bytes)/1000, counted(asked))
	all := f.clone + f.build + f.verdict
	fmt.Fprintf(w, "* From `git clone` to the first phone's verdict: %.1f s (clone %.1f, build with warm caches %.1f, start, join and verdict %.1f).\n",
		all.Seconds(), f.clone.Seconds(), f.build.Seconds(), f.verdict.Seconds())
}

// loaded parts the requests that bring the page from those that it makes once
// it runs: its API and its socket.
func loaded(all []browser.Request) (files []browser.Request, asked map[string]int) {
	asked = map[string]int{}
	for _, q := range all {
		at, err := url.Parse(q.URL)
		switch {
		case q.Kind == "WebSocket":
			asked["socket"]++
		case err == nil && strings.HasPrefix(at.Path, "/api/"):
			asked["call"]++
		default:
			files = append(files, q)
		}
	}
	return files, asked
}

// counted words the requests that follow the load.
func counted(asked map[string]int) string {
	var parts []string
	for _, kind := range []struct{ is, one, more string }{{"call", "API call", "API calls"}, {"socket", "socket", "sockets"}} {
		switch n := asked[kind.is]; n {
		case 0:
		case 1:
			parts = append(parts, "1 "+kind.one)
		default:
			parts = append(parts, fmt.Sprintf("%d %s", n, kind.more))
		}
	}
	if len(parts) == 0 {
		return "nothing"
	}
	return strings.Join(parts, " and ")
}
