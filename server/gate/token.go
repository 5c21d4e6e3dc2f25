package gate

import (
	"context"
	"crypto/rand"
	"crypto/sha256"
	"crypto/subtle"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"time"

	"halfline/server/store"
)

// How long a token lasts without use. Player: a day of practice; coach: a week.
const (
	playerIdle = 12 * time.Hour
	coachIdle  = 7 * 24 * time.Hour
	coachMost  = 30 * 24 * time.Hour
	// touchEvery: a token's last use is written at most this often.
	touchEvery = 30 * time.Minute
)

// ErrNoToken says that a token is unknown, has ended, or was revoked.
var ErrNoToken = errors.New("no such token")

// Pass is what a token proves.
type Pass struct {
	Role    string `json:"role"`
	Member  string `json:"member"`
	Session string `json:"session"` // empty for coaches: any session
	Made    int64  `json:"made"`    // Unix seconds
	Used    int64  `json:"used"`
}

// ended reports whether a pass is good no longer.
func (p Pass) ended(now time.Time) bool {
	idle := playerIdle
	if p.Role == "coach" {
		if now.Sub(time.Unix(p.Made, 0)) > coachMost {
			return true
		}
		idle = coachIdle
	}
	return now.Sub(time.Unix(p.Used, 0)) > idle
}

// Gate checks tokens and codes against a store.
type Gate struct {
	shelf  *shelf
	now    func() time.Time
	key    [32]byte // hash of the key in the coach's link of this start
	tries  *limiter
	turn   turn // who holds it tries a code or key
	digits int
}

// New makes a gate. now is the clock that tokens and codes end by; digits is
// how many symbols a join code has. It returns the key for the coach's link,
// which is good for as long as this process runs.
func New(s store.Store, now func() time.Time, digits int) (g *Gate, coachKey string) {
	coachKey = secret(20)
	g = &Gate{
		shelf: &shelf{store: s, now: now, turn: newTurn()}, now: now, key: sha256.Sum256([]byte(coachKey)),
		tries: newLimiter(now), turn: newTurn(), digits: digits,
	}
	return g, coachKey
}

// secret is n random bytes in hex.
func secret(n int) string {
	b := make([]byte, n)
	if _, err := rand.Read(b); err != nil {
		panic(err) // no randomness: nothing can go on safely
	}
	return hex.EncodeToString(b)
}

const (
	tokenPrefix = "token:"
	codePrefix  = "code:"
)

func hashed(prefix, secret string) string {
	h := sha256.Sum256([]byte(secret))
	return prefix + hex.EncodeToString(h[:])
}

// Coach exchanges the key of the coach's link for a token. ErrNoToken,
// ErrTooMany.
func (g *Gate) Coach(ctx context.Context, addr, key string) (token string, err error) {
	err = g.try(ctx, addr, func() error {
		h := sha256.Sum256([]byte(key))
		if subtle.ConstantTimeCompare(h[:], g.key[:]) != 1 {
			return ErrNoToken
		}
		return nil
	})
	if err != nil {
		return "", err
	}
	return g.issue(ctx, Pass{Role: "coach", Member: secret(8)})
}

// Player gives a token to a device that has joined.
func (g *Gate) Player(ctx context.Context, session, member string) (token string, err error) {
	return g.issue(ctx, Pass{Role: "player", Member: member, Session: session})
}

func (g *Gate) issue(ctx context.Context, p Pass) (string, error) {
	p.Made = g.now().Unix()
	p.Used = p.Made
	token := secret(20)
	return token, g.write(ctx, token, p)
}

func (g *Gate) write(ctx context.Context, token string, p Pass) error {
	raw, err := json.Marshal(p)
	if err != nil {
		return err
	}
	if err := g.shelf.put(ctx, hashed(tokenPrefix, token), raw); err != nil {
		return fmt.Errorf("keep token: %w", err)
	}
	return nil
}

// Token says what a token proves. ErrNoToken.
func (g *Gate) Token(ctx context.Context, token string) (Pass, error) {
	if len(token) != 40 {
		return Pass{}, ErrNoToken
	}
	raw, ok, err := g.shelf.get(ctx, hashed(tokenPrefix, token))
	if err != nil {
		return Pass{}, fmt.Errorf("look up token: %w", err)
	}
	if !ok {
		return Pass{}, ErrNoToken
	}
	var p Pass
	if err := json.Unmarshal(raw, &p); err != nil {
		return Pass{}, fmt.Errorf("token's record: %w", err)
	}
	now := g.now()
	if p.ended(now) {
		return Pass{}, ErrNoToken
	}
	if now.Sub(time.Unix(p.Used, 0)) > touchEvery {
		p.Used = now.Unix()
		if err := g.write(ctx, token, p); err != nil && !errors.Is(err, store.ErrReadOnly) {
			return Pass{}, err
		}
	}
	return p, nil
}
