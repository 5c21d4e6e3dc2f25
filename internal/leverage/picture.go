package leverage

import (
	"halfline/internal/assign"
	"halfline/internal/athlete"
	"halfline/internal/call"
	"halfline/internal/field"
	"halfline/internal/look"
	"halfline/internal/play"
)

// Defender is a man of the defense as races see him.
type Defender struct {
	Duty    assign.Duty
	At      field.Offset // field terms
	Athlete athlete.Athlete
}

// Runner is a man of the offense as races see him.
type Runner struct {
	Man     look.Man
	Athlete athlete.Athlete
}

// Board is the moment before the snap.
type Board struct {
	Look  look.Look
	Side  field.Side // the play side
	Men   []Runner   // in the order of Look.Men
	Spots []Defender
	Model Model
	Carry float64    // share of his speed that a man keeps with the ball
	Count look.Count // of Look; see Reset
	// Version names the offense as it stands, 0 if nobody counts: a picture's
	// routes hold as long as it stays.
	Version int

	asked  []ask         // memory of what is asked of one man
	duties []assign.Duty // of a pattern
	times  []float64
	xs     []float64
	places []field.Offset // and of a search for his fix
	rims   []float64
}

// Block is one expected block, in out-terms of the play side.
type Block struct {
	By     int // index into Men
	On     int // index into Spots
	How    play.How
	From   field.Vec
	Target field.Vec
	Meet   field.Vec // where blocker and man come together
	// Second: another man blocks him too and is the outer one; this block makes no
	// lane and is no race of his.
	Second bool
}

// Picture is one play against one board: who blocks whom, where the blocks
// will be and where the ball goes. Out-terms of the play side.
type Picture struct {
	Play     *play.Play
	Carrier  int // index into Men
	CommitAt field.Vec
	Going    field.Vec
	CatchAt  field.Vec
	Ball     athlete.Athlete // the carrier as he runs with the ball
	Blocks   []Block         // from the box edge outwards
	Edge     float64
	Sideline float64
	Routes   []RouteRun
	Stages   []Stage // of a play with routes: who has whom
	// Moved is who goes in motion before the snap (index into Men, -1), MovedTo and
	// MovedV where he is at the snap and how fast.
	Moved   int
	MovedTo field.Vec
	MovedV  field.Vec
	mouths  []mouths     // by lane
	version int          // of the offense that the routes are of
	spots   []*call.Spot // that the stages are of
}

// meetShare: blocker and defender come together two thirds of the way to the
// defender: the blocker runs, the defender comes to balance. Across the field
// the defender gives up meetAcross yards at most: he holds his side and lets the
// blocker come.
const (
	meetShare  = 2.0 / 3
	meetAcross = 1.0
)

func meet(from, to field.Vec) field.Vec {
	across := (from.X - to.X) * (1 - meetShare)
	return field.Vec{
		X: to.X + min(max(across, -meetAcross), meetAcross),
		Y: from.Y + (to.Y-from.Y)*meetShare,
	}
}

// Draw fills p with a play against the board; ok is false when the look has
// nobody to carry the ball that way. Slices in p are used again.
func (b *Board) Draw(p *Picture, pl *play.Play) (ok bool) {
	s := b.Side
	p.Blocks, p.mouths = p.Blocks[:0], p.mouths[:0]
	p.Edge, p.Sideline = b.Count.BoxEdge(s).Yards(), b.Look.Ball.Sideline(s).Yards()
	b.motion(p, pl)
	// Routes hold as long as the offense stands, who has whom as long as the call is
	// the same.
	kept := p.Play == pl && p.version == b.Version && b.Version != 0
	if len(pl.Routes) == 0 || !kept {
		p.version, p.Routes = b.Version, p.Routes[:0]
		b.routes(p, pl)
	}
	if !kept || !b.sameSpots(p) {
		p.Stages = p.Stages[:0]
		if len(p.Routes) > 0 {
			b.pattern(p, pl)
		}
	}
	p.Play = pl
	if pl.Motion != nil && p.Moved < 0 {
		return false
	}
	if pl.Kind == play.Pass {
		p.Carrier = -1
		return len(p.Routes) > 0
	}
	ci := b.find(pl.Carrier)
	if ci < 0 || pl.Kind.Thrown() && (b.Count.Attached(s, b.Men[ci].Man) || b.covered(ci)) {
		return false // a man on the end of the line runs no screen, a covered one may not
	}
	p.Carrier = ci
	start := b.Start(p, ci)
	p.CommitAt = start.Add(pl.CommitsAt)
	p.CatchAt = start.Add(pl.CaughtAt)
	p.Going = pl.Going
	p.Ball = b.Men[ci].Athlete
	p.Ball.Top *= b.Carry
	// A carrier cannot commit out of bounds: near the sideline he turns up.
	if lim := p.Sideline - 1; p.CommitAt.X > lim {
		p.CommitAt.X = lim
	}
	for _, bl := range pl.Blocks {
		by := b.find(bl.By)
		on := b.target(bl.On)
		if by < 0 && bl.How.Hard() {
			return false // without its lead it is another play
		}
		if by < 0 || on < 0 || by == ci || p.blocks(by) {
			continue // two names may mean one man in a thin look
		}
		from := b.Start(p, by)
		to := s.Flip(b.Spots[on].At.Vec())
		p.Blocks = append(p.Blocks, Block{By: by, On: on, How: bl.How, From: from, Target: to, Meet: meet(from, to)})
	}
	for i := 1; i < len(p.Blocks); i++ { // few: insertion keeps equal ones in play order
		for j := i; j > 0 && p.Blocks[j].Meet.X < p.Blocks[j-1].Meet.X; j-- {
			p.Blocks[j], p.Blocks[j-1] = p.Blocks[j-1], p.Blocks[j]
		}
	}
	for i := range p.Blocks { // a double team is one block, at the outer blocker
		for j := i + 1; j < len(p.Blocks); j++ {
			p.Blocks[i].Second = p.Blocks[i].Second || p.Blocks[j].On == p.Blocks[i].On
		}
	}
	return true
}

// blocks reports whether a man has a block already.
func (p *Picture) blocks(by int) bool {
	for i := range p.Blocks {
		if p.Blocks[i].By == by {
			return true
		}
	}
	return false
}

// sameSpots reports whether a picture's stages are of the call's spots on this
// side as they are.
func (b *Board) sameSpots(p *Picture) bool {
	if len(p.spots) != len(b.Spots) {
		return false
	}
	for i := range b.Spots {
		if p.spots[i] != b.Spots[i].Duty.Spot {
			return false
		}
	}
	return true
}

// motion sends the play's man on his way; he is there when the ball is snapped. A
// man who stands on the line may not be in motion (NFHS 7-2-7): then nobody is.
func (b *Board) motion(p *Picture, pl *play.Play) {
	p.Moved = -1
	m := pl.Motion
	if m == nil {
		return
	}
	i := b.find(m.By)
	if i < 0 || b.Men[i].Man.Line {
		return
	}
	p.MovedTo, p.MovedV = m.To, m.Going
	if m.Off != "" {
		off := b.find(m.Off)
		if off < 0 {
			return
		}
		p.MovedTo.X += b.Side.Out(b.Men[off].Man.At.X.Yards())
	}
	p.Moved = i
	if lim := b.Look.Ball.Sideline(b.Side).Yards() - 1; p.MovedTo.X > lim {
		p.MovedTo.X = lim
	}
}

// Start is where man i is at the snap of a picture, out-terms of the play side.
func (b *Board) Start(p *Picture, i int) field.Vec {
	if i == p.Moved {
		return p.MovedTo
	}
	return b.Side.Flip(b.Men[i].Man.At.Vec())
}

// Reset forgets what was cached of an earlier look; call it after Look changed.
func (b *Board) Reset() {
	b.Count.Of(&b.Look)
}

// Numbers gives the receivers of a side, as of the last Reset.
func (b *Board) Numbers(s field.Side) []look.Man { return b.Count.Numbers(s) }

// find gives the index of the man a Ref means, or -1.
func (b *Board) find(r play.Ref) int {
	tag, ok := play.Resolve(&b.Count, b.Side, r)
	if !ok {
		return -1
	}
	for i := range b.Men {
		if b.Men[i].Man.Tag == tag {
			return i
		}
	}
	return -1
}

func (b *Board) target(t play.Target) int {
	for i := range b.Spots {
		if sp := b.Spots[i].Duty.Spot; sp.Role == t && b.Spots[i].Duty.Half == b.Side {
			return i
		}
	}
	return -1
}
