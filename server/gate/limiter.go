package gate

import (
	"sync"
	"time"

	"golang.org/x/time/rate"
)

// Wrong tries: 10 a minute an address with a burst of 20, 60 a minute in all.
const (
	addrRate  = rate.Limit(10.0 / 60)
	addrBurst = 20
	allRate   = rate.Limit(1)
	allBurst  = 60
	// forgetAfter: an address without a wrong try for so long is forgotten.
	forgetAfter = 10 * time.Minute
	// addrMost addresses are remembered; beyond, all count as one.
	addrMost = 10000
	// sweepEvery is the pause between looks for addresses to forget.
	sweepEvery = time.Minute
)

type limiter struct {
	now func() time.Time

	mu    sync.Mutex
	all   *rate.Limiter       // guarded by mu
	by    map[string]*attempt // guarded by mu
	rest  *rate.Limiter       // guarded by mu
	swept time.Time           // guarded by mu
}

type attempt struct {
	l    *rate.Limiter
	last time.Time
}

func newLimiter(now func() time.Time) *limiter {
	return &limiter{now: now, all: rate.NewLimiter(allRate, allBurst), by: map[string]*attempt{}, rest: rate.NewLimiter(addrRate, addrBurst)}
}

func (l *limiter) of(addr string) *rate.Limiter {
	if a, ok := l.by[addr]; ok {
		return a.l
	}
	return nil
}

// may reports whether an address may try now.
func (l *limiter) may(addr string) bool {
	l.mu.Lock()
	defer l.mu.Unlock()
	now := l.now()
	if l.all.TokensAt(now) < 1 {
		return false
	}
	if a := l.of(addr); a != nil {
		return a.TokensAt(now) >= 1
	}
	return len(l.by) < addrMost || l.rest.TokensAt(now) >= 1
}

// failed counts a wrong try.
func (l *limiter) failed(addr string) {
	l.mu.Lock()
	defer l.mu.Unlock()
	now := l.now()
	l.all.AllowN(now, 1)
	a, ok := l.by[addr]
	if !ok {
		l.sweep(now)
		if len(l.by) >= addrMost {
			l.rest.AllowN(now, 1)
			return
		}
		a = &attempt{l: rate.NewLimiter(addrRate, addrBurst)}
		l.by[addr] = a
	}
	a.last = now
	a.l.AllowN(now, 1)
}

// sweep forgets addresses; the caller holds mu.
func (l *limiter) sweep(now time.Time) {
	if now.Sub(l.swept) < sweepEvery {
		return
	}
	l.swept = now
	for k, v := range l.by {
		if now.Sub(v.last) > forgetAfter {
			delete(l.by, k)
		}
	}
}
