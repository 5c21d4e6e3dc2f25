package book

import (
	"fmt"
	"slices"
	"strings"

	"go.yaml.in/yaml/v4"

	"halfline/internal/call"
	"halfline/internal/play"
)

// usualBlocks is on whom a kind of play blocks, from the box edge outwards.
var usualBlocks = map[play.Kind][]play.Target{
	play.Toss:   {play.Apex, play.Corner},
	play.Swing:  {play.Apex, play.Corner},
	play.Bubble: {play.Corner},
	play.Now:    {play.Corner},
}

// lanes refuses a call that gives a lane to nobody while everybody plays right.
// An outside hat on the k-th block from inside shuts lane k and all beyond, an
// inside hat lane k-1; what is left needs a free man. Where a free man fits off
// the apex's hat, both hats are tried.
func (j *judge) lanes(k play.Kind) {
	var blocked []*call.Spot
	for _, role := range usualBlocks[k] {
		blocked = append(blocked, j.holder(role))
	}
	var free []*call.Spot
	reads := false
	for _, s := range j.against(k) {
		if !slices.Contains(blocked, s) {
			free = append(free, s)
			reads = reads || s.Fits[k].Owns == call.ReadsHat
		}
	}
	if len(free) == 0 {
		return // a drill of blocked men only: the free man is left out
	}
	apex := blocked[0].Fits[k].Hat
	either := []call.Hat{apex}
	if apex == call.HatEither && reads {
		either = []call.Hat{call.HatOutside, call.HatInside}
	}
	for _, h := range either {
		if n, ok := hole(blocked, free, k, h); ok {
			j.hole(k, n, append(blocked, free...), len(blocked))
			return
		}
	}
}

// hole is the first lane that no hat shuts and no free man owns, the apex's hat
// being given.
func hole(blocked, free []*call.Spot, k play.Kind, apex call.Hat) (lane int, ok bool) {
	n := len(blocked)
	closed := make([]bool, n+1)
	for i, s := range blocked {
		h := s.Fits[k].Hat
		if i == 0 {
			h = apex
		}
		switch h {
		case call.HatInside:
			closed[i] = true
		case call.HatOutside, call.HatOnBall, call.HatIfOpen:
			for l := i + 1; l <= n; l++ {
				closed[l] = true
			}
		}
	}
	for _, s := range free {
		if l := laneOf(s.Fits[k], n, apex); l >= 0 {
			closed[l] = true
		}
	}
	lane = slices.Index(closed, false)
	return lane, lane >= 0
}

// laneOf is the lane a man answers for among n+1, -1 if none.
func laneOf(f call.Fit, n int, apex call.Hat) int {
	switch f.Owns {
	case call.NoLane:
		return -1
	case call.LastLane:
		return n
	case call.ReadsHat:
		if apex == call.HatInside {
			return min(1, n)
		}
		return 0
	}
	return min(f.Owns, n)
}

// hole tells of a lane that nobody has, and of two men who share another: one of
// them is the likely culprit. The edge behind the force man shares his lane by
// right.
func (j *judge) hole(k play.Kind, lane int, men []*call.Spot, n int) {
	shut := fmt.Sprintf("a hat that shuts it (outside on block %d or further in, inside on block %d)", lane, lane+1)
	switch lane {
	case 0:
		shut = "the hat inside on block 1"
	case n:
		shut = fmt.Sprintf("the hat outside on block %d or further in", n)
	}
	for _, s := range men[:n] {
		if f := s.Fits[k]; laneOf(f, n, f.Hat) == lane {
			j.fail(fmt.Sprintf("%s has lane %d against the %s, and he is blocked with a hat (%s) that does not shut it", s.Label, lane, k, f.Hat),
				fmt.Sprintf("owns: %d for a free man, or %s", lane, shut), j.part(s.Label, k, "hat")...)
			return
		}
	}
	owners := map[int][]string{}
	for _, s := range men {
		f := s.Fits[k]
		if l := laneOf(f, n, f.Hat); l >= 0 && !f.Spare && f.Job != call.Secondary {
			owners[l] = append(owners[l], s.Label)
		}
	}
	for l := 0; l <= n; l++ {
		if who := owners[l]; len(who) > 1 {
			j.fail(fmt.Sprintf("%s both own lane %d against the %s, while lane %d has nobody and no hat shuts it", strings.Join(who[:2], " and "), l, k, lane),
				fmt.Sprintf("owns: %d for one of them, or %s", lane, shut),
				append(j.part(who[1], k, "owns"), j.part(who[0], k, "owns")...)...)
			return
		}
	}
	var at []*yaml.Node
	for _, s := range append(slices.Clone(men[n:]), men[:n]...) { // the free men first
		at = append(at, j.part(s.Label, k, "owns")...)
	}
	j.fail(fmt.Sprintf("nobody owns lane %d against the %s, and no hat shuts it", lane, k), fmt.Sprintf("owns: %d for a free man, or %s", lane, shut), at...)
}
