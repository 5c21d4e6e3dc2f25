package book

import (
	"fmt"
	"regexp"
	"slices"

	"go.yaml.in/yaml/v4"

	"halfline/internal/field"
	"halfline/internal/look"
)

var (
	idForm  = regexp.MustCompile(`^[a-z0-9][a-z0-9-]{0,39}$`)
	tagForm = regexp.MustCompile(`^[A-Za-z0-9]{1,4}$`)
)

func tagOK(t string) bool { return tagForm.MatchString(t) }

// id checks a name that other files refer to.
func (r *reader) id(e entry) bool {
	if idForm.MatchString(e.name) {
		return true
	}
	r.fail(e.key, fmt.Sprintf("name %q", e.name), "lower-case letters, digits and dashes, at most 40")
	return false
}

func (r *reader) ball(n *yaml.Node) (field.Ball, bool) {
	before := len(r.errs)
	f := r.fields(n, "field", []string{"rules", "yard", "hash"}, "rules", "yard", "hash")
	b := field.Ball{
		Rules: field.Rules(r.choice(f["rules"], "rules", "nfhs", "ncaa", "pro")),
		Hash:  field.Hash(r.choice(f["hash"], "hash", "left", "middle", "right")),
		Yard:  r.whole(f["yard"], "yard (from the offense's own goal line)", 1, 99),
	}
	return b, len(r.errs) == before && n != nil
}

func (r *reader) side(n *yaml.Node) field.Side {
	if r.choice(n, "side", "left", "right") == "left" {
		return field.Left
	}
	return field.Right
}

// place reads [x, y] in yards from the ball and refuses places off the field.
func (r *reader) place(n *yaml.Node, what string, b field.Ball, ok bool) field.Offset {
	v := r.numbers(n, what, 2, -120, 120)
	if v == nil {
		return field.Offset{}
	}
	o := field.At(v[0], v[1])
	if ok && !b.Inside(o) {
		r.fail(n, fmt.Sprintf("%s: (%g, %g) is off the field", what, v[0], v[1]),
			fmt.Sprintf("x from %.4g to %.4g, y from %.4g to %.4g here",
				-b.Sideline(field.Left).Yards(), b.Sideline(field.Right).Yards(), b.Behind().Yards(), b.Deepest().Yards()))
	}
	return o
}

// stands reads where a man stands, and refuses a second man in one place; seen
// holds who stands where.
func (r *reader) stands(seen map[field.Offset]string, n *yaml.Node, tag string, b field.Ball, ok bool) field.Offset {
	before := len(r.errs)
	at := r.place(n, tag, b, ok)
	if n == nil || len(r.errs) > before {
		return at
	}
	if o, taken := seen[at]; taken {
		r.fail(n, fmt.Sprintf("%s: stands where %s stands", tag, o), "half a yard and more from every other man")
	}
	seen[at] = tag
	return at
}

// tagged lists the men of a mapping, tags checked.
func (r *reader) tagged(n *yaml.Node, what string) []entry {
	var out []entry
	for _, e := range r.entries(n, what) {
		if !tagOK(e.name) {
			r.fail(e.key, fmt.Sprintf("%s: tag %q", what, e.name), "1 to 4 letters or digits")
			continue
		}
		out = append(out, e)
	}
	if len(out) > 22 {
		r.fail(n, fmt.Sprintf("%s: %d men", what, len(out)), "at most 22")
		return nil
	}
	return out
}

func (r *reader) looks(n *yaml.Node, plays, spots []string) []Look {
	var out []Look
	for _, e := range r.entries(n, "looks") {
		if !r.id(e) {
			continue
		}
		f := r.fields(e.value, "look "+e.name, []string{"name", "field", "side", "men", "menu"}, "name", "field", "side", "men")
		l := Look{ID: e.name, Name: r.text(f["name"], "name", 40), Side: r.side(f["side"])}
		b, ok := r.ball(f["field"])
		var men []look.Man
		seen := map[field.Offset]string{}
		for _, m := range r.tagged(f["men"], "men of "+e.name) {
			mf := r.fields(m.value, m.name, []string{"at", "on_line"}, "at")
			if slices.Contains(spots, m.name) {
				r.fail(m.key, fmt.Sprintf("men of %s: tag %q is a spot of the defense", e.name, m.name), "another tag: two men never share one")
			}
			men = append(men, look.Man{Tag: m.name, At: r.stands(seen, mf["at"], m.name, b, ok), Line: r.flag(mf["on_line"], "on_line")})
		}
		l.Shown = look.New(b, men)
		if v := l.Shown.Violations(); len(v) > 0 && ok {
			r.fail(e.key, "look "+e.name+" is illegal: "+v[0], "mend it")
		}
		l.Menu, l.Parts = r.lookMenu(f["menu"], plays)
		out = append(out, l)
	}
	return out
}

// lookMenu reads a look's menu: a list, or its parts, which come out one after the
// other.
func (r *reader) lookMenu(n *yaml.Node, plays []string) (all []string, parts MenuParts) {
	if n == nil || n.Kind != yaml.MappingNode {
		all = r.menu(n, plays)
		return all, MenuParts{Main: all}
	}
	f := r.fields(n, "menu", []string{"main", "partner", "honest"}, "main")
	for _, p := range []struct {
		key string
		to  *[]string
	}{{"main", &parts.Main}, {"partner", &parts.Partner}, {"honest", &parts.Honest}} {
		*p.to = r.menu(f[p.key], plays)
		for _, id := range *p.to {
			if slices.Contains(all, id) {
				r.fail(f[p.key], fmt.Sprintf("menu: %s: %q again", p.key, id), "each play in one part")
				continue
			}
			all = append(all, id)
		}
	}
	return all, parts
}

func (r *reader) menu(n *yaml.Node, plays []string) []string {
	var out []string
	if n != nil && n.Kind == yaml.SequenceNode && len(n.Content) == 0 {
		r.fail(n, "menu: nothing", "leave it out, or name plays")
	}
	for _, p := range r.names(n, "menu") {
		switch {
		case !slices.Contains(plays, p.name):
			r.fail(p.node, fmt.Sprintf("menu: no play %q", p.name), "want "+list(plays))
		case slices.Contains(out, p.name):
			r.fail(p.node, fmt.Sprintf("menu: %q again", p.name), "each play once")
		default:
			out = append(out, p.name)
		}
	}
	return out
}

// squad reads the men. What a man's athlete leaves out is that of the spot where
// he usually plays, a safety's if he has none.
func (r *reader) squad(n *yaml.Node, b *Book) []Player {
	var out []Player
	for _, it := range r.items(n, "squad") {
		f := r.fields(it, "man of the squad", []string{"number", "name", "spot", "athlete", "depth", "contact"}, "number", "name")
		p := Player{Number: r.text(f["number"], "number", 3), Name: r.text(f["name"], "name", 12)}
		base := b.Athletes.ByKind["safety"]
		if f["spot"] != nil {
			p.Spot = r.choice(f["spot"], "spot", b.spotLabels()...)
		}
		if sp, ok := b.firstSpot(p.Spot); ok {
			base = b.Defense(sp)
		}
		p.Athlete = r.athlete(f["athlete"], "athlete of "+p.Name, b.Athletes, base)
		p.Depth = r.depth(f["depth"], "depth of "+p.Name)
		p.Contact = r.choice(f["contact"], "contact", "full", "limited", "none")
		if p.Contact == "" {
			p.Contact = "full"
		}
		if slices.ContainsFunc(out, func(o Player) bool { return o.Number == p.Number && p.Number != "" }) {
			r.fail(f["number"], fmt.Sprintf("number %q again", p.Number), "each man his own")
		}
		out = append(out, p)
	}
	return out
}
