package look

import (
	"fmt"

	"halfline/internal/field"
)

const (
	// onLineDepth: a man this deep no longer breaks the plane that makes him a
	// lineman (common practice, no source).
	onLineDepth = field.Yard
	// backClear: how far behind the plane through the nearest lineman's waist a
	// back's body must be (half a man; NFHS 2-32-3 words the plane).
	backClear = halfMan
	// proBackDepth: NFL 7-5: a back is at least 1 yd behind the line (from memory).
	proBackDepth = field.Yard
)

// Violations says what is against the rules in a look, in a fixed order. A look
// that shows less than eleven men is judged by the men it shows: counts of the
// whole team (five on the line, seven in the pro rule) only when all eleven
// are there.
//
// Rules: NFHS 7-2-5a since 2019 (at most four backs, at least five on the line;
// there is no "seven on the line"), NCAA 7-1-4-a (at most four backs), NFL 7-5-1
// (seven on the line, from memory).
func (l Look) Violations() []string {
	var out []string
	add := func(f string, a ...any) { out = append(out, fmt.Sprintf(f, a...)) }
	backs, line := 0, 0
	for _, m := range l.Men {
		if m.Line {
			line++
		} else {
			backs++
		}
	}
	if n := len(l.Men); n > 11 {
		add("%d men: eleven at most", n)
	}
	if backs > 4 {
		add("%d backs: four at most; put %d on the line", backs, backs-4)
	}
	if len(l.Men) == 11 {
		want := 5
		if l.Ball.Rules == field.Pro {
			want = 7
		}
		if line < want {
			add("%d on the line: at least %d", line, want)
		}
	}
	for _, m := range l.Men {
		if v := l.place(m); v != "" {
			out = append(out, v)
		}
	}
	return out
}

// place says what is wrong with where one man stands.
func (l Look) place(m Man) string {
	switch {
	case m.At.Y > 0:
		return fmt.Sprintf("%s is beyond the line of scrimmage", m.Tag)
	case m.Line && m.At.Y < -onLineDepth:
		return fmt.Sprintf("%s is %.3g yd deep: too deep to be on the line", m.Tag, -m.At.Y.Yards())
	case m.Line || m.Tag == Passer:
		return "" // the passer may be under the snapper
	case l.Ball.Rules == field.Pro:
		if m.At.Y > -proBackDepth {
			return fmt.Sprintf("%s is off the line but only %.2g yd behind it: at least 1", m.Tag, -m.At.Y.Yards())
		}
		return ""
	}
	near, ok := l.nearestLineman(m)
	if ok && m.At.Y > near.At.Y-backClear {
		return fmt.Sprintf("%s is neither on the line nor clear behind %s: move him back to %.3g yd or put him on the line",
			m.Tag, near.Tag, -(near.At.Y - backClear).Yards())
	}
	return ""
}

func (l Look) nearestLineman(m Man) (best Man, ok bool) {
	for _, o := range l.Men {
		if o.Line && (!ok || (o.At.X-m.At.X).Abs() < (best.At.X-m.At.X).Abs()) {
			best, ok = o, true
		}
	}
	return best, ok
}

// Notes tells what is legal but worth knowing: men who may not go out for a
// pass because another man on the line stands outside of them.
func (l Look) Notes() []string {
	var out []string
	for _, s := range []field.Side{field.Left, field.Right} {
		for _, m := range l.Men {
			if !m.Line || interior(m) || s.OutInches(m.At.X) <= 0 {
				continue
			}
			for _, o := range l.Men {
				if o.Line && s.OutInches(o.At.X) > s.OutInches(m.At.X) {
					out = append(out, fmt.Sprintf("%s is covered by %s on the line: not eligible for a pass", m.Tag, o.Tag))
					break
				}
			}
		}
	}
	return out
}
