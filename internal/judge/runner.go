package judge

import (
	"fmt"

	"halfline/internal/lane"
)

// RunnerResult is the offense's side of the lanes: which one is right for the man
// with the ball, given the hats, and which blocks have lost theirs.
type RunnerResult struct {
	Lane int     // -1: there are no lanes
	Gain float64 // yards to the first man who meets him there
	Fit  string  // who is in time for it, "" if it is open
	Lost []LostBlock
}

// LostBlock is a lane that a block should have kept open and did not: the hat of
// the man it is on shuts it. One edge shuts several lanes and is named for each.
type LostBlock struct {
	By, On string
	Lane   int
	Hat    lane.Hat
}

// RunnerOf reads lanes from the carrier's side. His lane is the open one with the
// most gain; if none is open, of those that no hat shuts the one with the most.
// There always is one: n blocks shut n lanes at most, and they make n+1. Of two
// alike the inner one is his, since he is there sooner. Lost is written into the
// memory given.
func RunnerOf(lanes []LaneResult, lost []LostBlock) RunnerResult {
	r := RunnerResult{Lane: -1, Lost: lost[:0]}
	for i := range lanes {
		l := &lanes[i]
		if l.ShutBy != "" {
			if b, ok := lostBlock(lanes, l); ok {
				r.Lost = append(r.Lost, b)
			}
			continue
		}
		open, was := l.FitBy == "", r.Lane >= 0 && r.Fit == ""
		if r.Lane < 0 || open && !was || open == was && l.Gain > r.Gain {
			r.Lane, r.Gain, r.Fit = l.N, l.Gain, l.FitBy
		}
	}
	return r
}

// lostBlock finds the block on the man who shuts a lane: it bounds one of them.
func lostBlock(lanes []LaneResult, shut *LaneResult) (LostBlock, bool) {
	for i := range lanes {
		if b := &lanes[i].Outside; b.Word == "" && b.On == shut.ShutBy {
			hat := lane.Outside
			if lanes[i].N == shut.N {
				hat = lane.In
			}
			return LostBlock{By: b.By, On: b.On, Lane: shut.N, Hat: hat}, true
		}
	}
	return LostBlock{}, false
}

// Because tells why the lane is his.
func (r *RunnerResult) Because() string {
	switch {
	case r.Lane < 0:
		return "nobody carries the ball here"
	case r.Fit == "":
		return fmt.Sprintf("lane %d is open: no hat shuts it, no free man is in time; %.1f yd before anybody meets him", r.Lane, r.Gain)
	}
	return fmt.Sprintf("every lane is shut or fit; lane %d is worth the most: %s fits it, first met at %.1f yd", r.Lane, r.Fit, r.Gain)
}

// Because tells how the block lost its lane.
func (b *LostBlock) Because() string {
	if b.Hat == lane.In {
		return fmt.Sprintf("%s's hat is inside of %s: lane %d is shut; %s has to get to his inside", b.On, b.By, b.Lane, b.By)
	}
	return fmt.Sprintf("%s's hat is outside of %s and of the ball: lane %d is shut; %s has to reach him or kick him out", b.On, b.By, b.Lane, b.By)
}
