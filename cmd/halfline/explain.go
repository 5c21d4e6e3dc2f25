package main

import (
	"encoding/json"
	"fmt"
	"slices"
	"strings"

	"halfline/internal/book"
	"halfline/internal/field"
	"halfline/internal/judge"
)

// explainUsage tells of the flag, which several commands have.
const explainUsage = "tell after the answer how each number came about"

// explaining is what an explanation of an answer needs to know.
type explaining struct {
	about string // the command
	who   string // of depth: whose answer it is
	board *judge.Board
	book  *book.Book
}

// answer prints an answer as JSON and, when asked, how each of its numbers came
// about.
func (s stdio) answer(v any, explain bool, x explaining) int {
	if code := s.print(v); code != exitDone || !explain {
		return code
	}
	return s.explain(v, x)
}

// explain prints how the numbers of an answer came about.
func (s stdio) explain(v any, x explaining) int {
	text, err := x.explain(v)
	if err != nil {
		return s.fail(exitMachine, fmt.Errorf("--explain: %w: tell the makers", err))
	}
	return s.write([]byte(text))
}

func (x *explaining) formulas() []formula {
	switch x.about {
	case "check":
		return checkFormulas
	case "depth":
		return depthFormulas
	case "cost":
		return costFormulas
	}
	return repFormulas
}

// explain tells, number by number, value, formula and assumptions; then the
// assumptions themselves.
func (x *explaining) explain(v any) (string, error) {
	raw, err := json.Marshal(v)
	if err != nil {
		return "", err
	}
	ns, err := numbersOf(raw)
	if err != nil {
		return "", err
	}
	all := judge.Assumptions(x.board, x.book)
	told, needed := map[string]bool{}, map[string]bool{}
	var b strings.Builder
	b.WriteString("\nHow each number came about: value <- formula <- assumptions\n")
	for i := range ns {
		n := &ns[i]
		f := x.formulaOf(n)
		if f == nil {
			return "", fmt.Errorf("nothing tells of %s", strings.Join(n.path, "."))
		}
		where := strings.Join(n.path, ".")
		if f.once {
			if told[f.path] {
				continue
			}
			told[f.path] = true
			where = f.path
		}
		x.tell(&b, n, f, where, all, needed)
	}
	assumptionTable(&b, all, needed)
	return b.String(), nil
}

// tell writes the chain of one number.
func (x *explaining) tell(b *strings.Builder, n *number, f *formula, where string, all []judge.Assumption, needed map[string]bool) {
	if f.once {
		fmt.Fprintf(b, "\n%s\n  <- %s\n", where, f.words)
	} else {
		fmt.Fprintf(b, "\n%s = %s\n  <- %s\n", where, n.value, f.words)
	}
	if stated := x.stated(n, f, all, needed); len(stated) > 0 {
		fmt.Fprintf(b, "  <- %s\n", strings.Join(stated, ", "))
	}
	if n.because != "" && !f.once {
		fmt.Fprintf(b, "  here: %s\n", n.because)
	}
}

// formulaOf finds the formula of a number: first one for its kind of race.
func (x *explaining) formulaOf(n *number) *formula {
	fs := x.formulas()
	for _, tail := range []string{"@" + n.race, ""} {
		for i := range fs {
			if p, of := strings.CutSuffix(fs[i].path, tail); of && !strings.Contains(p, "@") && fits(p, n.path) {
				return &fs[i]
			}
		}
	}
	return nil
}

// fits says whether a place is one of a path's; a leading * takes any number of
// names.
func fits(pattern string, path []string) bool {
	want := strings.Split(pattern, ".")
	if want[0] == "*" && len(path) > len(want) {
		path = path[len(path)-len(want):]
	}
	return len(want) == len(path) && !slices.ContainsFunc(indexes(want), func(i int) bool { return want[i] != "*" && want[i] != path[i] })
}

func indexes(s []string) []int {
	out := make([]int, len(s))
	for i := range s {
		out[i] = i
	}
	return out
}

// stated tells the assumptions that a formula needs, in its order; of a whole
// family that many stand below, only its name.
func (x *explaining) stated(n *number, f *formula, all []judge.Assumption, needed map[string]bool) []string {
	const most = 3
	who := n.who
	if x.who != "" {
		who = x.who
	}
	fill := strings.NewReplacer("{who}", who, "{by}", n.by, "{play}", n.against)
	var out []string
	for _, want := range f.needs {
		want = fill.Replace(want)
		family, isFamily := strings.CutSuffix(want, "*")
		var found []string
		for i := range all {
			if a := &all[i]; a.Key == want || isFamily && strings.HasPrefix(a.Key, family) {
				needed[a.Key] = true
				found = append(found, fmt.Sprintf("%s %s (%s)", a.Key, amount(a), a.Status))
			}
		}
		if len(found) > most {
			found = []string{fmt.Sprintf("%s (%d below)", want, len(found))}
		}
		out = append(out, found...)
	}
	return out
}

// amount tells a value with its unit, to two decimals.
func amount(a *judge.Assumption) string {
	return strings.TrimSuffix(fmt.Sprintf("%g %s", field.Round2(a.Value), a.Unit), " ")
}

// assumptionTable writes the assumptions that were named, one a line.
func assumptionTable(b *strings.Builder, all []judge.Assumption, needed map[string]bool) {
	b.WriteString("\nAssumptions: value, status, on what, where it is changed\n")
	for i := range all {
		if a := &all[i]; needed[a.Key] {
			fmt.Fprintf(b, "  %-26s %-10s %-15s %s; change: %s\n", a.Key, amount(a), a.Status, a.Source, a.Change)
		}
	}
	b.WriteString("Level ground, best effort, no strength or technique beyond the time of a block. The coach's eye governs.\n")
}
