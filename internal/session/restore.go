package session

import (
	"maps"
	"slices"

	"halfline/internal/field"
	"halfline/internal/look"
)

// Picture is what a board shows, or parts of it: what the board operation puts
// back. An absent part stays as it is; any other replaces the state's whole, Men
// and Spots with everybody who is not among them gone.
type Picture struct {
	Ball   *Ball           `json:"ball,omitempty"`
	Side   string          `json:"side,omitempty" enum:"left,right"`
	Look   string          `json:"look,omitempty"`
	Call   string          `json:"call,omitempty"`
	Men    map[string]Man  `json:"men,omitempty"`
	Spots  map[string]Spot `json:"spots,omitempty"`
	Motion *Motion         `json:"motion,omitempty"`
	Moment *Moment         `json:"moment,omitempty"`
}

// board puts a whole picture back in one change: how a look, a call, a side or a
// frozen moment is undone. It takes no picture that the other operations could
// not have made, but for the rules of motion, which they ask when a man is sent:
// the ball may have been moved under him since.
func (d decider) board() (Change, *Refusal) {
	p := d.op.Picture
	if p == nil {
		return refuse(CodeBadValue, "picture")
	}
	next := d.s.Clone()
	c := Change{Men: map[string]*Man{}, Spots: map[string]*Spot{}}
	if p.Ball != nil {
		c.Ball = ptr(*p.Ball)
	}
	c.Side, c.Look, c.Call = said(p.Side), said(p.Look), said(p.Call)
	if p.Men != nil {
		replaced(c.Men, d.s.Men, p.Men)
	}
	if p.Spots != nil {
		replaced(c.Spots, d.s.Spots, d.heldIn(p))
	}
	if p.Motion != nil {
		c.Motion = ptr(p.Motion.clone())
		if len(p.Motion.Via) == 0 {
			c.Motion.Via = nil
		}
	}
	if p.Moment != nil {
		c.Moment = ptr(p.Moment.clone())
		slices.Sort(c.Moment.Late)
	}
	next.Apply(c)
	if r := d.canBe(&next); r != nil {
		return Change{}, r
	}
	return d.fresh(c), nil
}

// said is a text that may be absent.
func said(t string) *string {
	if t == "" {
		return nil
	}
	return &t
}

// replaced writes down what makes one set of entries of another.
func replaced[V comparable](to map[string]*V, was, is map[string]V) {
	for k := range was {
		if _, ok := is[k]; !ok {
			to[k] = nil
		}
	}
	for k, v := range is {
		if old, ok := was[k]; !ok || old != v {
			to[k] = &v
		}
	}
}

// heldIn gives a picture's spots with who holds them now. People are no part of
// a picture: who has come since keeps his spot. Only where spots became others,
// by another call, everybody goes back to the one that he had.
func (d decider) heldIn(p *Picture) map[string]Spot {
	now, out := d.s.Spots, maps.Clone(p.Spots)
	for label, sp := range out {
		sp.By = ""
		if _, ok := squadMan(d.b, sp.Man); !ok {
			sp.Man = usualMan(d.b, label)
		}
		out[label] = sp
	}
	holds := map[string]bool{}
	give := func(from map[string]Spot) {
		for _, label := range slices.Sorted(maps.Keys(from)) {
			had := from[label]
			m := d.s.Members[had.By]
			sp, on := out[label]
			if on && sp.By == "" && had.By != "" && !holds[had.By] && m.In && m.Role == Player {
				sp.By, sp.Man = had.By, had.Man
				out[label], holds[had.By] = sp, true
			}
		}
	}
	if p.Call != "" && p.Call != d.s.Call {
		give(p.Spots)
		give(now)
	} else {
		give(now)
		give(p.Spots)
	}
	for label, sp := range out {
		if sp.By == "" && p.Spots[label].By != "" {
			sp.Man = usualMan(d.b, label)
			out[label] = sp
		}
	}
	return out
}

// canBe refuses a state whose picture no other operation could have made.
func (d decider) canBe(s *State) *Refusal {
	no := func(code, detail string) *Refusal { return &Refusal{Code: code, Detail: detail} }
	if s.Ball.FieldBall().Validate() != nil {
		return no(CodeBadValue, "ball")
	}
	if _, err := field.ParseSide(s.Side); err != nil {
		return no(CodeBadValue, "side")
	}
	l, ok := d.b.Look(s.Look)
	if !ok {
		return no(CodeUnknown, s.Look)
	}
	if _, ok := d.b.Call(s.Call); !ok {
		return no(CodeUnknown, s.Call)
	}
	inside := func(p Place) bool { return s.Ball.FieldBall().Inside(p.Offset()) }
	if len(s.Men) != len(l.Shown.Men) {
		return no(CodeBadValue, "men")
	}
	for _, m := range l.Shown.Men {
		man, ok := s.Men[m.Tag]
		switch {
		case !ok:
			return no(CodeBadValue, "men")
		case !inside(man.At):
			return no(CodeOffField, m.Tag)
		case man.At[1] > 0:
			return no(CodeIllegalMove, m.Tag+" beyond the line")
		}
	}
	for _, label := range s.labels() {
		if cs, ok := onCall(d.b, s.Call, label); !ok || cs.Stand == nil {
			return no(CodeUnknown, label)
		}
		if !inside(s.Spots[label].At) {
			return no(CodeOffField, label)
		}
	}
	if what := s.Motion.wrong(s, inside); what != "" {
		return no(CodeBadValue, what)
	}
	return d.momentCanBe(s, inside)
}

// wrong says what of a motion cannot be, or nothing.
func (m Motion) wrong(s *State, inside func(Place) bool) string {
	man, ok := s.Men[m.Who]
	passed := append([]Place{m.From, m.To}, m.Via...)
	switch {
	case m.Who == "":
		if m.From != (Place{}) || m.To != (Place{}) || m.Line || m.Kind != "" || len(m.Via) > 0 {
			return "motion"
		}
	case !ok || man.At != m.To || len(m.Via) > maxVia || m.Kind != "" && !slices.Contains(look.MotionKinds, look.MotionKind(m.Kind)),
		slices.ContainsFunc(passed, func(p Place) bool { return !inside(p) || p[1] > 0 }):
		return "motion"
	}
	return ""
}

// momentCanBe is the same for a frozen moment, which must be whole.
func (d decider) momentCanBe(s *State, inside func(Place) bool) *Refusal {
	m := s.Moment
	bad := func(what string) *Refusal { return &Refusal{Code: CodeBadValue, Detail: what} }
	man := func(who string) bool { _, ok := s.Men[who]; return ok }
	spot := func(who string) bool { _, ok := s.Spots[who]; return ok }
	if m.Play == "" {
		if m.Carrier != "" || len(m.Places)+len(m.Blocks)+len(m.Late)+len(m.Makes) > 0 {
			return bad("moment")
		}
		return nil
	}
	if _, ok := d.b.Play(m.Play); !ok {
		return &Refusal{Code: CodeUnknown, Detail: m.Play}
	}
	if !man(m.Carrier) {
		return bad("carrier")
	}
	for who, at := range m.Places {
		if !man(who) && !spot(who) || !inside(at) {
			return bad("places")
		}
	}
	by := map[string]bool{}
	for _, b := range m.Blocks {
		if !man(b.By) || !spot(b.On) || b.By == m.Carrier || by[b.By] {
			return bad("blocks")
		}
		by[b.By] = true
	}
	for i, label := range m.Late {
		if !spot(label) || i > 0 && m.Late[i-1] == label {
			return bad("late")
		}
	}
	for label, w := range m.Makes {
		if !spot(label) || w.Lane < -1 || w.Lane > lanesMost {
			return bad("makes")
		}
	}
	return nil
}
