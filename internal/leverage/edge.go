package leverage

import (
	"halfline/internal/athlete"
	"halfline/internal/call"
	"halfline/internal/field"
	"halfline/internal/play"
)

// Edge is the race of a force man: he is outside and in front of the ball before
// it turns the corner on him.
const Edge Kind = "edge"

const (
	edgeOut   = 0.5 // yd that the corner lies outside of him and of his block
	edgeBall  = 1.0 // yd beyond the line: there the ball has turned it
	edgeFront = 2.0 // yd beyond the line where he must be by then
	edgeReach = 0.5
)

// edgeAsk asks a man to hold the edge; past is how far out the block on him will
// be, with half a man.
func edgeAsk(p *Picture, react, past float64) ask {
	return ask{kind: Edge, play: p.Play, by: p.Carrier, react: react, pic: p, past: past}
}

// edge is the race of a man who stands at a place. The corner lies half a yard
// outside of the wider of him and his block.
func (k *ask) edge(at field.Vec, a *athlete.Athlete) Race {
	x := min(max(at.X, k.past)+edgeOut, k.pic.Sideline)
	r := Race{Kind: Edge, Play: k.play, By: k.by, At: field.Vec{X: x, Y: edgeFront}, Side: call.HatOutside}
	r.Mine = k.react + a.TimeFor(at.Dist(r.At)-edgeReach)
	r.His = k.play.Commits + k.pic.Ball.TimeTo(k.pic.CommitAt, k.pic.Going, field.Vec{X: x, Y: edgeBall}, 0, 0)
	r.Margin = r.His - r.Mine
	return r
}

// cracked reports whether #1 comes inside to block in this picture.
func (p *Picture) cracked() bool {
	for i := range p.Play.Blocks {
		if p.Play.Blocks[i].How == play.Crack && p.Play.Blocks[i].By == "#1" {
			return true
		}
	}
	return false
}
