package lane

import (
	"halfline/internal/call"
	"halfline/internal/play"
)

// Kind is a kind of fault. The list belongs to the contract of `check`.
type Kind string

const (
	OverTheTop  Kind = "over-the-top"
	DucksUnder  Kind = "ducks-under"
	EdgeLost    Kind = "edge-lost"
	LateAlley   Kind = "late-alley"
	WrongLane   Kind = "wrong-lane"
	NotReplaced Kind = "crack-not-replaced"
	TwoInOne    Kind = "two-in-one-lane"
	WrongSide   Kind = "wrong-side"
	OffDepth    Kind = "off-depth"

	// Faults of a rep, which a moment cannot show.
	TriggerEarly Kind = "trigger-early"
	LeftBlock    Kind = "left-block-early"
	LateShed     Kind = "late-shed"
	ReceiverFree Kind = "receiver-free"
)

// Fault is one broken rule at the moment.
type Fault struct {
	Who     int // index into Men
	Kind    Kind
	Opens   int     // lane, -1: opens nothing
	SavedBy int     // index into Men, -1
	Cost    float64 // yards that the lane it opened is worth over the best other lane
}

// find finds whose hat, lane or edge is not what the call wants, first cause
// first: blocked men from the box edge outwards (the ball meets them in that
// order), then men who left a block or did not replace, then free men.
func (f *finder) find() {
	f.hats()
	f.slipped()
	f.replacers()
	f.owners()
	f.crowded()
	f.open()
}

type finder struct {
	m       *Moment
	bs      []Block
	lanes   []Lane
	blockOf []int // by man
	out     []Fault
}

func (f *finder) add(who int, k Kind, opens int) {
	f.out = append(f.out, Fault{Who: who, Kind: k, Opens: opens, SavedBy: -1})
	if opens >= 0 {
		f.lanes[opens].opened = len(f.out) - 1
	}
}

func (f *finder) faulty(who int) bool {
	for _, x := range f.out {
		if x.Who == who {
			return true
		}
	}
	return false
}

// hats judges every blocked man's hat.
func (f *finder) hats() {
	for i := range f.bs {
		b := &f.bs[i]
		d := &f.m.Men[b.On]
		if !d.Order.Known || f.climbed(i) {
			continue
		}
		want := d.Order.Fit.Hat
		if d.Order.Fit.Spare {
			continue // the next inside-out man may use either hat
		}
		if b.Crack && want != call.HatInside {
			continue // force has passed to the man outside
		}
		if want == call.HatIfOpen {
			if f.heldInside(i) {
				continue
			}
			want = call.HatOutside
		}
		if want == call.HatOnBall {
			if d.At.X < f.m.Ball.X {
				continue
			}
			want = call.HatOutside
		}
		switch want {
		case call.HatInside:
			if b.Hat == Outside {
				f.add(b.On, OverTheTop, f.needy(i))
			} else if b.Hat == Even {
				f.add(b.On, WrongSide, f.needy(i))
			}
		case call.HatOutside:
			if holdsEdge(f.m, b) {
				continue
			}
			k := EdgeLost
			if b.Hat == In && d.Order.FromOutside && d.Order.Role == play.Apex {
				k = DucksUnder
			}
			f.add(b.On, k, f.beyond(i))
		}
	}
}

// heldInside reports whether an edge inside of block i holds.
func (f *finder) heldInside(i int) bool {
	for k := range f.bs[:i] {
		if holdsEdge(f.m, &f.bs[k]) {
			return true
		}
	}
	return false
}

// needy is lane n if no hat shuts it, else -1.
func (f *finder) needy(n int) int {
	if f.lanes[n].ShutBy < 0 {
		return n
	}
	return -1
}

// beyond is the lane that a lost edge on block i opens: the first lane outside
// of it that no hat shuts, up to the next block whose edge is lost as well, for
// that man is nearer to what lies beyond him.
func (f *finder) beyond(i int) int {
	for n := i + 1; n < len(f.lanes); n++ {
		if f.lanes[n].ShutBy < 0 {
			return n
		}
		if n < len(f.bs) && !holdsEdge(f.m, &f.bs[n]) {
			return -1
		}
	}
	return -1
}

// climbed reports whether block i came to its man because the man it was meant
// for slipped under it: then the man blocked is not at fault.
func (f *finder) climbed(i int) bool {
	b := f.bs[i]
	return !f.m.Men[b.On].Order.Blocked && f.under(b) >= 0
}

// under finds a man whom the play blocks, who is not blocked, and who stands
// inside of a blocker who has gone on to a man the play leaves free.
func (f *finder) under(b Block) int {
	for k := range f.m.Men {
		d := &f.m.Men[k]
		if d.Order.Known && d.Order.Blocked && f.blockOf[k] < 0 && !d.Late && d.At.X < b.At.X &&
			d.Order.Fit.Owns != call.LastLane {
			return k
		}
	}
	return -1
}

// slipped names the man who ducked under a block and freed the blocker.
func (f *finder) slipped() {
	for _, b := range f.bs {
		if f.m.Men[b.On].Order.Blocked {
			continue
		}
		if k := f.under(b); k >= 0 && !f.faulty(k) {
			f.add(k, DucksUnder, f.firstOpen())
			return
		}
	}
}

func (f *finder) firstOpen() int {
	for n := range f.lanes {
		if f.lanes[n].Open() && f.lanes[n].opened < 0 {
			return n
		}
	}
	return -1
}

// replacers judges men whom the play blocks but who are free because their
// blocker cracked inside: they take over the edge.
func (f *finder) replacers() {
	last := len(f.lanes) - 1
	for k := range f.m.Men {
		d := &f.m.Men[k]
		fit := &d.Order.Fit
		if !d.Order.Known || !(d.Order.Blocked || d.Order.Role == play.Corner && f.cracked()) || f.blockOf[k] >= 0 || f.faulty(k) ||
			(fit.Job != call.Force && fit.Job != call.Secondary) || len(f.bs) == 0 {
			continue
		}
		if f.lanes[last].ShutBy >= 0 || f.lanes[last].FitBy == k {
			continue
		}
		f.add(k, NotReplaced, last)
	}
}

// cracked reports whether the outermost receiver has come inside to block.
func (f *finder) cracked() bool {
	for i := range f.bs {
		if f.bs[i].Crack {
			return true
		}
	}
	return false
}

// owners judges free men who answer for a lane, and the spare man when the
// owner in front of him is blocked.
func (f *finder) owners() {
	for k := range f.m.Men {
		d := &f.m.Men[k]
		fit := &d.Order.Fit
		if !d.Order.Known || d.Order.Blocked || f.blockOf[k] >= 0 || f.faulty(k) || fit.Owns == call.NoLane {
			continue
		}
		n := f.owned(k)
		l := &f.lanes[n]
		if l.ShutBy >= 0 || l.FitBy == k || f.covers(k) {
			continue
		}
		if fit.Spare && !f.called(n) {
			continue
		}
		if l.FitBy >= 0 && f.m.Men[l.FitBy].Order.ownsLane(f.m, f.bs, n, len(f.lanes)) {
			continue // shared with a team-mate who is there
		}
		if l.opened >= 0 && !d.Late {
			continue // a team-mate opened it; this man is where his rule says
		}
		if d.Late {
			if l.opened >= 0 {
				continue
			}
			f.add(k, LateAlley, n)
		} else {
			f.add(k, WrongLane, n)
		}
	}
}

// owned is the lane that free man k answers for here. A spare man takes the lane
// of the owner who is blocked.
func (f *finder) owned(k int) int {
	d := &f.m.Men[k]
	if d.Order.Fit.Spare {
		for i := range f.lanes {
			if f.lanes[i].Open() && f.lanes[i].opened < 0 {
				return i
			}
		}
	}
	return d.Order.lane(f.m, f.bs, len(f.lanes))
}

// called reports whether the spare man is needed: a lane is open and the free
// man who should be there is blocked or not on the board.
func (f *finder) called(n int) bool {
	if !f.lanes[n].Open() {
		return false
	}
	for k := range f.m.Men {
		d := &f.m.Men[k]
		if d.Order.Known && !d.Order.Fit.Spare && !d.Order.Blocked && d.Order.Fit.Owns != call.NoLane && f.blockOf[k] < 0 {
			return false // the owner is free: it is his lane
		}
	}
	return true
}

// covers reports whether free man k fits a lane that a team-mate's fault opened.
func (f *finder) covers(k int) bool {
	for n := range f.lanes {
		l := &f.lanes[n]
		if l.FitBy == k && l.opened >= 0 {
			return true
		}
	}
	return false
}

// fits reports whether free man k answers for some lane. Where a block stands
// inside of the box edge two lanes overlap, and he may stand in both.
func (f *finder) fits(k int) bool {
	for n := range f.lanes {
		if f.lanes[n].FitBy == k {
			return true
		}
	}
	return false
}

// crowded names the second free man in a lane while another lane is empty, if
// no other fault explains the empty lane.
func (f *finder) crowded() {
	empty := -1
	for n := range f.lanes {
		if f.lanes[n].Open() && f.lanes[n].opened < 0 {
			empty = n
		}
	}
	if empty < 0 {
		return
	}
	for n := range f.lanes {
		l := &f.lanes[n]
		for k := range f.m.Men {
			d := &f.m.Men[k]
			if l.FitBy >= 0 && f.blockOf[k] < 0 && !d.Late && d.Vel == nil && d.Order.Known &&
				l.holds(d) && !f.fits(k) && !f.faulty(k) && f.lanes[empty].opened < 0 {
				f.add(k, TwoInOne, empty)
			}
		}
	}
}

// open fills in who saved each fault and what it cost.
func (f *finder) open() {
	for i := range f.out {
		x := &f.out[i]
		if x.Opens < 0 {
			if b := f.blockOf[x.Who]; b >= 0 && b+1 < len(f.lanes) {
				x.SavedBy = f.lanes[b+1].ShutBy
				if x.SavedBy == x.Who {
					x.SavedBy = -1
				}
			}
			continue
		}
		l := &f.lanes[x.Opens]
		x.SavedBy = l.FitBy
		rest := 0.0
		for n, o := range f.lanes {
			if n != x.Opens && o.ShutBy < 0 && (o.opened < 0 || f.out[o.opened].Who == x.Who) {
				rest = max(rest, o.Gain)
			}
		}
		x.Cost = max(0, l.Gain-rest)
	}
}
