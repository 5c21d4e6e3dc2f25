package web

import (
	"net/netip"
	"sync"
)

// How many live connections there may be: in all, of one address, of one
// address that have not said who they are, and of one token. This machine's own
// address counts only in all: behind a proxy on it, it is everybody.
const (
	crowdMost   = 2000
	addrMost    = 200
	addrNewMost = 100
	tokenMost   = 6
)

// crowd counts live connections.
type crowd struct {
	mu      sync.Mutex
	all     int            // guarded by mu
	byAddr  map[string]int // guarded by mu
	newAddr map[string]int // guarded by mu; those that have not said hello
	byToken map[string]int // guarded by mu; by member, who has one token
}

func newCrowd() *crowd {
	return &crowd{byAddr: map[string]int{}, newAddr: map[string]int{}, byToken: map[string]int{}}
}

// guest is one connection. Its methods are called from one goroutine.
type guest struct {
	c             *crowd
	addr, member  string
	free, greeted bool
}

// enter counts a connection; false if there is no room.
func (c *crowd) enter(addr string) (*guest, bool) {
	a, err := netip.ParseAddr(addr)
	g := &guest{c: c, addr: addr, free: err == nil && a.IsLoopback()}
	c.mu.Lock()
	defer c.mu.Unlock()
	if c.all >= crowdMost || !g.free && (c.byAddr[addr] >= addrMost || c.newAddr[addr] >= addrNewMost) {
		return nil, false
	}
	c.all++
	c.byAddr[addr]++
	c.newAddr[addr]++
	return g, true
}

// greet says whose the connection is; false if he has too many already.
func (g *guest) greet(member string) bool {
	g.c.mu.Lock()
	defer g.c.mu.Unlock()
	if g.c.byToken[member] >= tokenMost {
		return false
	}
	g.greeted, g.member = true, member
	drop(g.c.newAddr, g.addr)
	g.c.byToken[member]++
	return true
}

func (g *guest) leave() {
	g.c.mu.Lock()
	defer g.c.mu.Unlock()
	g.c.all--
	drop(g.c.byAddr, g.addr)
	if g.greeted {
		drop(g.c.byToken, g.member)
	} else {
		drop(g.c.newAddr, g.addr)
	}
}

// drop counts down and forgets who has none left.
func drop(count map[string]int, key string) {
	if count[key]--; count[key] == 0 {
		delete(count, key)
	}
}
