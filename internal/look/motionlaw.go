package look

import (
	"fmt"
	"math"

	"halfline/internal/field"
)

// motionFromLine: a man who started on the line and is still moving must be
// this deep at the snap (NFHS 7-2-7).
const motionFromLine = 5 * field.Yard

// MotionViolation says why a motion is against the rules, and how to mend it,
// or nothing.
//
// One man may be in motion at the snap, and not towards his opponent's goal; he
// may come up from the backfield before. He must be clear of the line; one who
// started on it must be 5 yd deep unless he has been set again as a back for a
// second (NFHS 7-2-7, NCAA 7-1-4-b alike). Who shifts is set for a second
// (NFHS 7-2-6), which [Look.Timeline] sees to. What the men show at the snap is
// judged by [Look.Violations].
func (l Look) MotionViolation(m Motion) string {
	man, ok := l.Find(m.Who)
	switch {
	case !ok:
		return fmt.Sprintf("no man %q in this look", m.Who)
	case !m.Kind.known():
		return fmt.Sprintf("no motion is called %q: straight, push, jet, orbit, return or shift", m.Kind)
	case interior(man):
		return m.Who + " is a lineman: he may not be in motion"
	case len(m.Path) == 0:
		return m.Who + " goes nowhere: give the place where he is at the snap"
	case m.Speed != 0 && !(m.Speed >= Slowest && m.Speed <= Fastest):
		return fmt.Sprintf("%s at %.3g yd/s: %g to %g, or none for the usual", m.Who, m.Speed, Slowest, Fastest)
	}
	way, to := m.Path[:len(m.Path)-1], m.Path[len(m.Path)-1]
	if v := l.wayViolation(m.Who, to, true); v != "" {
		return v
	}
	for _, p := range way {
		if v := l.wayViolation(m.Who, p, false); v != "" {
			return v
		}
	}
	t := l.Timeline(m)
	if t.Set < 0 {
		return ""
	}
	switch {
	case to.Y > -backClear:
		return m.Who + " would be on the line at the snap: at least half a yard behind it"
	case man.Line && to.Y > -motionFromLine:
		return m.Who + " starts on the line: 5 yd deep at the snap, or let him be set again as a back"
	case t.Velocity(0).Y > 0:
		return m.Who + " would move towards the line at the snap: let him come up before and end flat or going back, or be set again (a shift)"
	}
	return ""
}

// wayViolation is what is wrong with a place on the way; last is where he is at
// the snap.
func (l Look) wayViolation(who string, p field.Offset, last bool) string {
	switch {
	case !l.Ball.Inside(p) && last:
		return fmt.Sprintf("%s would end off the field at %s: %s", who, p, l.bounds())
	case !l.Ball.Inside(p):
		return fmt.Sprintf("%s leaves the field at %s: %s", who, p, l.bounds())
	case p.Y > 0 && !last:
		return fmt.Sprintf("%s crosses the line of scrimmage at %s: keep all of his way behind it", who, p)
	case p.Y > 0:
		return who + " would be beyond the line at the snap: keep him behind it"
	}
	return ""
}

func (l Look) bounds() string {
	b := l.Ball
	return fmt.Sprintf("x from %.4g to %.4g, y from %.4g to 0",
		-b.Sideline(field.Left).Yards(), b.Sideline(field.Right).Yards(), math.Round(b.Behind().Yards()*100)/100)
}
