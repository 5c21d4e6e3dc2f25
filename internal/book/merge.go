package book

import (
	"slices"

	"go.yaml.in/yaml/v4"

	"halfline/internal/leverage"
)

// merged lays a book's own entries over those it starts from: the same id
// replaces, a new one comes at the end. Neither slice is changed.
func merged[T any](base, own []*T, id func(*T) string) []*T {
	out := append([]*T(nil), base...)
	for _, o := range own {
		at := slices.IndexFunc(out, func(b *T) bool { return id(b) == id(o) })
		if at < 0 {
			out = append(out, o)
		} else {
			out[at] = o
		}
	}
	return out
}

// builtinCalls reads the built-in calls' nodes again, for books that start a
// call `from:` one of them.
func builtinCalls() map[string]*rawCall {
	data, err := shipped.ReadFile("books/builtin.book.yaml")
	if err != nil {
		return nil
	}
	r := &reader{file: "builtin.book.yaml"}
	raw := map[string]*rawCall{}
	if n := r.tree(data); n != nil {
		r.calls(r.fields(n, "book", bookKeys)["calls"], raw)
	}
	return raw
}

// model reads the numbers that are nobody's own.
func (r *reader) model(n *yaml.Node, m leverage.Model) leverage.Model {
	f := r.fields(n, "model", []string{"set", "stalk_set", "gain_limit", "hold", "let_go", "ball_reaction"})
	for _, x := range []struct {
		key  string
		to   *float64
		most float64
	}{
		{"set", &m.Set, 1}, {"stalk_set", &m.StalkSet, 1}, {"gain_limit", &m.Limit, 15},
		{"hold", &m.Blocked, 5}, {"let_go", &m.Loose, 2}, {"ball_reaction", &m.Ball, 2},
	} {
		if f[x.key] != nil {
			*x.to = r.number(f[x.key], "model: "+x.key, 0, x.most)
		}
	}
	return m
}
