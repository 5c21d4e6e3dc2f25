package gate

import (
	"context"
	"crypto/rand"
	"encoding/json"
	"errors"
	"fmt"
	"math/big"
	"strings"
	"time"
)

// symbols of a join code: digits without 0 and 1, consonants without L, so that
// no code reads as a word and none is misread.
const symbols = "23456789BCDFGHJKMNPQRSTVWXZY"

// codeLasts is how long a code is good.
const codeLasts = 12 * time.Hour

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
	items, err := g.store.Items(ctx, "")
	if err != nil {
		return "", fmt.Errorf("draw code: %w", err)
	}
	for key, raw := range items {
		var r codeRecord
		if !strings.HasPrefix(key, codePrefix) || json.Unmarshal(raw, &r) != nil {
			continue
		}
		if r.Session == session && !keep || r.Until < g.now().Unix() {
			if err := g.store.DeleteItem(ctx, "", key); err != nil {
				return "", fmt.Errorf("end old code: %w", err)
			}
		}
	}
	var b strings.Builder
	for range g.digits {
		n, err := rand.Int(rand.Reader, big.NewInt(int64(len(symbols))))
		if err != nil {
			return "", fmt.Errorf("draw code: %w", err)
		}
		b.WriteByte(symbols[n.Int64()])
	}
	code := b.String()
	raw, err := json.Marshal(codeRecord{session, g.now().Add(codeLasts).Unix()})
	if err != nil {
		return "", err
	}
	if err := g.store.PutItem(ctx, "", hashed(codePrefix, code), raw); err != nil {
		return "", fmt.Errorf("keep code: %w", err)
	}
	return code, nil
}

// Code gives the session of a join code. Case, spaces and dashes do not matter.
// Only wrong tries count against an address, since a whole team sits behind
// one. ErrNoCode, ErrTooMany.
func (g *Gate) Code(ctx context.Context, addr, code string) (session string, err error) {
	if !g.tries.may(addr) {
		return "", ErrTooMany
	}
	items, err := g.store.Items(ctx, "")
	if err != nil {
		return "", fmt.Errorf("look up code: %w", err)
	}
	var r codeRecord
	raw, ok := items[hashed(codePrefix, Tidy(code))]
	if ok {
		if err := json.Unmarshal(raw, &r); err != nil {
			return "", fmt.Errorf("code's record: %w", err)
		}
	}
	if !ok || r.Until < g.now().Unix() {
		g.tries.failed(addr)
		return "", ErrNoCode
	}
	return r.Session, nil
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
