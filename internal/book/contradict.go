package book

import (
	"fmt"
	"slices"

	"go.yaml.in/yaml/v4"

	"halfline/internal/call"
	"halfline/internal/play"
)

// judge is one call under the question whether it contradicts itself. Only the
// men on the side of the play count.
type judge struct {
	*reader
	c     *call.Call
	rc    *rawCall
	nodes map[string]spotNodes
}

// contradictions refuses a call that cannot be played right by everybody: two
// men force, nobody holds the edge, a lane is given to nobody, a receiver is
// nobody's, a hat on the wrong side. A call may leave spots out; what hangs on a
// corner and an apex is judged only where both are there.
func (r *reader) contradictions(c *call.Call, rc *rawCall, nodes map[string]spotNodes) {
	j := judge{r, c, rc, nodes}
	for i := range c.Spots {
		if c.Spots[i].Half == call.This {
			j.hats(&c.Spots[i])
		}
	}
	whole := j.holder(play.Corner) != nil && j.holder(play.Apex) != nil
	for _, k := range play.Kinds {
		twice := j.forces(k)
		if whole && j.fits(play.Corner, k) && j.fits(play.Apex, k) && !j.noEdge(k) && !twice {
			j.lanes(k)
		}
	}
	if whole {
		j.receivers()
	}
}

// fail puts a contradiction at the first of some nodes that is of this file;
// else at the way or setting that brought it about, or at the call.
func (j *judge) fail(what, want string, at ...*yaml.Node) {
	at = append(at, j.rc.key)
	for _, n := range at {
		if j.has(n) {
			j.reader.fail(n, "call "+j.c.ID+": "+what, want)
			return
		}
	}
	j.reader.fail(j.rc.key, "call "+j.c.ID+": "+what, want)
}

// part is where a value of a spot's fit is written; then where a way of playing
// him was chosen.
func (j *judge) part(label string, k play.Kind, key string) []*yaml.Node {
	out := []*yaml.Node{nodeOf(nodeOf(j.nodes[label]["fits"], string(k)), key)}
	for _, w := range slices.Backward(j.rc.ways) {
		if w.name == label {
			out = append(out, w.value)
		}
	}
	for _, p := range slices.Backward(j.rc.chosen) {
		for i := range j.rc.settings {
			s := &j.rc.settings[i]
			if s.name == p.name && nodeOf(j.rc.choice(s).value, label) != nil {
				out = append(out, p.value)
			}
		}
	}
	return out
}

// holder is the first man of a role on the side of the play.
func (j *judge) holder(role play.Target) *call.Spot {
	for i := range j.c.Spots {
		if s := &j.c.Spots[i]; s.Half == call.This && s.Role == role {
			return s
		}
	}
	return nil
}

func (j *judge) fits(role play.Target, k play.Kind) bool {
	s := j.holder(role)
	if s == nil {
		return false
	}
	_, ok := s.Fits[k]
	return ok
}

// against lists the men on the side of the play who have a part against a kind.
func (j *judge) against(k play.Kind) []*call.Spot {
	var out []*call.Spot
	for i := range j.c.Spots {
		s := &j.c.Spots[i]
		if _, ok := s.Fits[k]; ok && s.Half == call.This {
			out = append(out, s)
		}
	}
	return out
}

// forces refuses two force men.
func (j *judge) forces(k play.Kind) bool {
	first := ""
	for _, s := range j.against(k) {
		switch {
		case s.Fits[k].Job != call.Force:
		case first == "":
			first = s.Label
		default:
			j.fail(fmt.Sprintf("%s and %s both force the %s on one side", first, s.Label, k),
				"one man forces; give the other another job, such as secondary contain or cutback",
				append(j.part(s.Label, k, "job"), j.part(first, k, "job")...)...)
			return true
		}
	}
	return false
}

// noEdge refuses a call in which nobody forces and nobody has the last lane.
func (j *judge) noEdge(k play.Kind) bool {
	for _, s := range j.against(k) {
		if f := s.Fits[k]; f.Job == call.Force || f.Owns == call.LastLane {
			return false
		}
	}
	c := j.holder(play.Corner).Label
	j.fail(fmt.Sprintf("nobody holds the edge against the %s", k),
		"let one man force, or own the last lane: {job: secondary contain, owns: last, hat: outside}", j.part(c, k, "owns")...)
	return true
}

// hats refuses a hat that cannot do the job: an edge is held with the hat
// outside, and who stands outside of his man cannot get his hat inside but by
// crossing the block.
func (j *judge) hats(s *call.Spot) {
	for _, k := range play.Kinds {
		f, ok := s.Fits[k]
		if !ok || f.Hat != call.HatInside {
			continue
		}
		outside := s.Stand != nil && s.Stand.Keep.Side == call.Outside
		at := j.part(s.Label, k, "hat")
		switch {
		case f.Job == call.Force && outside:
			j.fail(fmt.Sprintf("%s stands outside of %s and forces the %s, yet his hat is to be inside", s.Label, s.Stand.Keep.Off, k), "hat: outside", at...)
		case f.Job == call.Force || f.Job == call.Secondary:
			j.fail(fmt.Sprintf("%s is %s against the %s, yet his hat is to be inside", s.Label, f.Job, k), "hat: outside, or another job, such as cutback", at...)
		case f.Job == call.Cutback && outside:
			j.fail(fmt.Sprintf("%s stands outside of %s, yet his hat is to be inside of his block against the %s", s.Label, s.Stand.Keep.Off, k),
				"stand him inside (keep: inside of "+string(s.Stand.Keep.Off)+"), or hat: outside and job: force", at...)
		}
	}
}
