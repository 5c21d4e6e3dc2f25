package call

import "halfline/internal/play"

// Shown is one receiver as pass rules see him now.
type Shown struct {
	Number  int // 1-based from outside; 0: the back while he is in the box
	Tag     string
	Release play.Release // "" until it shows
}

// Own is the receiver a spot answers for, and how.
type Own struct {
	Tag  string // "" for a man with no receiver: he has a zone, or the run
	Hold Hold
	Rule *PassRule // nil with Tag ""
	// Then is the receiver whom he comes off to when the ball is thrown, "" for
	// nobody. Until the throw it is the answer to who has that receiver.
	Then string
}

// Owns gives whom a spot answers for by its pass rules. They are tried in the
// order of the book, and the first that takes a receiver who is there and whose
// conditions show wins; a rule on the throw counts only when it is thrown, and
// until then says whom he comes off to.
func (s *Spot) Owns(shown []Shown, thrown bool) Own {
	var then string
	for i := range s.Pass {
		r := &s.Pass[i]
		if r.Takes == "" || !shows(shown, r.If) || r.With.Number != "" && !shows(shown, r.With) {
			continue
		}
		k := numbered(shown, r.Takes)
		switch {
		case k < 0:
		case r.Holds == OnThrow && !thrown:
			if then == "" {
				then = shown[k].Tag
			}
		default:
			return Own{Tag: shown[k].Tag, Hold: r.Holds, Rule: r, Then: then}
		}
	}
	return Own{Then: then}
}

// shows reports whether a receiver is there and releases so; any release will
// do for "".
func shows(shown []Shown, c Condition) bool {
	k := numbered(shown, c.Number)
	return k >= 0 && (c.Release == "" || string(shown[k].Release) == c.Release)
}

// numbered finds the receiver that a rule names by "#1", "#2", "#3" or "back".
func numbered(shown []Shown, number string) int {
	n := 0
	if number != "back" {
		if len(number) != 2 || number[0] != '#' {
			return -1
		}
		n = int(number[1] - '0')
	}
	for i := range shown {
		if shown[i].Number == n {
			return i
		}
	}
	return -1
}

// Unowned lists the receivers for whom nobody answers, in the order shown. Who
// comes off to a receiver on the throw answers for him before it; a back does not
// count before he leaves the box.
func Unowned(own []Own, shown []Shown) []string {
	var out []string
	for i := range shown {
		s := &shown[i]
		if s.Number == 0 && (s.Release == "" || s.Release == "block") {
			continue
		}
		if !owned(own, s.Tag) {
			out = append(out, shown[i].Tag)
		}
	}
	return out
}

func owned(own []Own, tag string) bool {
	for i := range own {
		if own[i].Tag == tag || own[i].Then == tag {
			return true
		}
	}
	return false
}
