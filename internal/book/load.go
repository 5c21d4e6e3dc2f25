package book

import (
	"embed"
	"fmt"
	"path"
	"strings"
	"sync"

	"halfline/internal/call"
	"halfline/internal/leverage"
	"halfline/internal/play"
)

//go:embed books/*.book.yaml
var shipped embed.FS

// Builtin is the book that every other starts from.
var Builtin = sync.OnceValue(func() *Book { return mustShip("builtin") })

// Shipped gives a book that comes with the program.
func Shipped(id string) (*Book, error) {
	if id == "builtin" {
		return Builtin(), nil
	}
	name := "books/" + id + ".book.yaml"
	data, err := shipped.ReadFile(name)
	if err != nil {
		return nil, fmt.Errorf("book %q: not shipped: want %s", id, strings.Join(ShippedIDs(), ", "))
	}
	return Read(path.Base(name), data)
}

// ShippedIDs lists the books that come with the program.
func ShippedIDs() []string {
	es, _ := shipped.ReadDir("books") // an embedded folder cannot fail
	var out []string
	for _, e := range es {
		out = append(out, strings.TrimSuffix(e.Name(), ".book.yaml"))
	}
	return out
}

func mustShip(id string) *Book {
	file := id + ".book.yaml"
	data, err := shipped.ReadFile("books/" + file)
	if err == nil {
		var b *Book
		if b, err = read(file, data, nil); err == nil {
			return b
		}
	}
	panic("shipped book: " + err.Error()) // held by a test; cannot reach a user
}

// Read reads a staff's book over the built-in one. The error is Problems.
func Read(file string, data []byte) (*Book, error) { return read(file, data, Builtin()) }

var bookKeys = []string{"book", "name", "menu", "caution", "athletes", "model", "settings", "plays", "calls", "looks", "squad"}

func read(file string, data []byte, base *Book) (*Book, error) {
	r := &reader{file: file}
	n := r.tree(data)
	if n == nil {
		return nil, r.errs
	}
	f := r.fields(n, "book", bookKeys, "book", "name")
	if f["book"] != nil && f["book"].Value != "1" {
		r.fail(f["book"], "book: version "+describe(f["book"]), "want 1")
	}
	b := &Book{ID: strings.TrimSuffix(path.Base(file), ".book.yaml"), Name: r.text(f["name"], "name", 40)}
	raw := map[string]*rawCall{}
	if base == nil {
		b.Model, b.KickOuts = leverage.Default(), Box
	} else {
		b.Calls, b.Plays, b.Menu = base.Calls, base.Plays, base.Menu
		b.Athletes, b.Model, b.KickOuts, b.Caution = base.Athletes, base.Model, base.KickOuts, base.Caution
		raw = builtinCalls()
	}
	b.Athletes = r.athletes(f["athletes"], b.Athletes)
	b.Model = r.model(f["model"], b.Model)
	r.bookSettings(f["settings"], b)
	b.Plays = merged(b.Plays, r.plays(f["plays"]), func(p *play.Play) string { return p.ID })
	callID := func(c *call.Call) string { return c.ID }
	b.Calls = merged(b.Calls, r.settle(f["calls"], raw), callID)
	b.Calls = kicked(merged(b.Calls, r.calls(f["calls"], raw), callID), b.KickOuts)
	r.unsettled(raw)
	if f["menu"] != nil {
		b.Menu = r.menu(f["menu"], b.playIDs())
	}
	if t := r.text(f["caution"], "caution", 500); t != "" {
		b.Caution = t
	}
	b.Looks = r.looks(f["looks"], b.playIDs(), b.spotLabels())
	b.Squad = r.squad(f["squad"], b)
	if len(r.errs) > 0 {
		return nil, r.errs.sorted()
	}
	return b, nil
}

// Cached gives shipped books, each read once. Safe for many goroutines.
func Cached() func(id string) (*Book, error) {
	var mu sync.Mutex
	have := map[string]*Book{}
	return func(id string) (*Book, error) {
		mu.Lock()
		defer mu.Unlock()
		if b, ok := have[id]; ok {
			return b, nil
		}
		b, err := Shipped(id)
		if err == nil {
			have[id] = b
		}
		return b, err
	}
}
