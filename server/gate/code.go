package gate

import (
	"context"
	"crypto/rand"
	"encoding/json"
	"errors"
	"fmt"
	"math/big"
	"slices"
	"strings"
	"time"
)

// symbols of a join code: digits without 0 and 1, consonants without L, so that
// no code reads as a word and none is misread.
const symbols = "23456789BCDFGHJKMNPQRSTVWXZY"

const (
	// codeLasts is how long a code is good.
	codeLasts = 12 * time.Hour
	// codeSpare is how long a code that is shown must still be good: people
	// type it some time after they have read it.
	codeSpare = time.Hour
)

// Refusals of the gate.
var (
	ErrNoCode  = errors.New("no such code")
	ErrTooMany = errors.New("too many wrong tries")
)

type codeRecord struct {
	Session string `json:"session"`
	Until   int64  `json:"until"` // Unix seconds
}

// Draw makes a new join code for a session. Its earlier codes end, unless keep:
// after a restart the code on the marker board must still be good, though only
// its hash is known.
func (g *Gate) Draw(ctx context.Context, session string, keep bool) (string, error) {
	code, err := draw(g.digits)
	if err != nil {
		return "", fmt.Errorf("draw code: %w", err)
	}
	raw, err := json.Marshal(codeRecord{session, g.now().Add(codeLasts).Unix()})
	if err != nil {
		return "", err
	}
	// The new one is good before the old ones end: a door whose code is gone
	// and not replaced would be shut.
	key := hashed(codePrefix, code)
	if err := g.shelf.put(ctx, key, raw); err != nil {
		return "", fmt.Errorf("keep code: %w", err)
	}
	if err := g.sweep(ctx, session, keep, key); err != nil {
		return "", err
	}
	return code, nil
}

func draw(digits int) (string, error) {
	var b strings.Builder
	for range digits {
		n, err := rand.Int(rand.Reader, big.NewInt(int64(len(symbols))))
		if err != nil {
			return "", err
		}
		b.WriteByte(symbols[n.Int64()])
	}
	return b.String(), nil
}

// sweepMost bounds what one drawing takes off, each a write of its own: the
// coach waits for it.
const sweepMost = 64

// sweep takes off a session's earlier codes, and some of what has ended by
// itself. drawn stays.
func (g *Gate) sweep(ctx context.Context, session string, keep bool, drawn string) error {
	items, err := g.shelf.all(ctx)
	if err != nil {
		return err
	}
	var ended []string
	for key, raw := range items {
		var c codeRecord
		var p Pass
		switch {
		case key == drawn:
		case strings.HasPrefix(key, codePrefix) && json.Unmarshal(raw, &c) == nil:
			if c.Session == session && !keep {
				if err := g.shelf.drop(ctx, key); err != nil {
					return fmt.Errorf("end old code: %w", err)
				}
			} else if c.Until < g.now().Unix() {
				ended = append(ended, key)
			}
		case strings.HasPrefix(key, tokenPrefix) && json.Unmarshal(raw, &p) == nil && p.ended(g.now()):
			ended = append(ended, key)
		}
	}
	slices.Sort(ended)
	for _, key := range ended[:min(len(ended), sweepMost)] {
		if err := g.shelf.drop(ctx, key); err != nil {
			return fmt.Errorf("take off what has ended: %w", err)
		}
	}
	return nil
}

// Code gives the session of a join code. Case, spaces and dashes do not matter.
// Only wrong tries count against an address, since a whole team sits behind
// one. ErrNoCode, ErrTooMany.
func (g *Gate) Code(ctx context.Context, addr, code string) (session string, err error) {
	err = g.try(ctx, addr, func() error {
		r, ok, err := g.code(ctx, code)
		if err != nil {
			return fmt.Errorf("look up code: %w", err)
		}
		if !ok {
			return ErrNoCode
		}
		session = r.Session
		return nil
	})
	return session, err
}

// Lasts reports whether a code is good long enough to be shown to people.
func (g *Gate) Lasts(ctx context.Context, code string) (bool, error) {
	r, ok, err := g.code(ctx, code)
	return ok && time.Unix(r.Until, 0).Sub(g.now()) >= codeSpare, err
}

func (g *Gate) code(ctx context.Context, code string) (r codeRecord, ok bool, err error) {
	raw, ok, err := g.shelf.get(ctx, hashed(codePrefix, Tidy(code)))
	if err != nil || !ok {
		return r, false, err
	}
	if err := json.Unmarshal(raw, &r); err != nil {
		return r, false, fmt.Errorf("code's record: %w", err)
	}
	return r, r.Until >= g.now().Unix(), nil
}

// try carries out one try of an address and counts it if it is wrong. Tries go
// one at a time: many at once would all pass before the first is counted.
func (g *Gate) try(ctx context.Context, addr string, f func() error) error {
	if !g.tries.may(addr) {
		return ErrTooMany
	}
	if err := g.turn.take(ctx); err != nil {
		return err
	}
	defer g.turn.give()
	if !g.tries.may(addr) {
		return ErrTooMany
	}
	err := f()
	if errors.Is(err, ErrNoCode) || errors.Is(err, ErrNoToken) {
		g.tries.failed(addr)
	}
	return err
}

// Tidy is a code as it was drawn, from what a person typed.
func Tidy(code string) string {
	return strings.Map(func(r rune) rune {
		if r == ' ' || r == '-' {
			return -1
		}
		return r
	}, strings.ToUpper(code))
}
