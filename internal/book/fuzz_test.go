package book_test

import (
	"errors"
	"fmt"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"halfline/internal/book"
)

var placed = regexp.MustCompile(`^f\.yaml:[1-9]\d*:[1-9]\d*: \S`)

// wellSaid holds what is true of every refusal: only Problems, each on one line
// with its place.
func wellSaid(t *testing.T, err error) {
	var ps book.Problems
	if !errors.As(err, &ps) || len(ps) == 0 {
		t.Fatalf("not problems: %v", err)
	}
	for i, p := range ps {
		if strings.ContainsAny(p.Error(), "\n\r") || !placed.MatchString(p.Error()) {
			t.Fatalf("badly said: %q", p.Error())
		}
		if i > 0 && (ps[i-1].Line > p.Line || ps[i-1].Line == p.Line && ps[i-1].Col > p.Col) {
			t.Fatalf("out of order: %v", ps)
		}
	}
}

var odd = []string{"", "\n", "# nothing\n", "---", "a", "[]", "{}", "{{}}", "? a\n: b\n", "a: &x [*x]", "a: !!binary aGk=", "\xff\xfe", "\xef\xbb\xbfbook: 1",
	"%YAML 1.2\n---\nbook: 1", "scene: 1\n? [a, b]\n: c\n", "<<: {a: 1}\n", "offense: {a: {at: [.nan, .inf]}}", "book: 1\nname: \"a\\0b\""}

func FuzzReadScene(f *testing.F) {
	f.Add([]byte(goodScene))
	for _, o := range odd {
		f.Add([]byte(o))
		f.Add([]byte(strings.Replace(goodScene, "side: right", "side: "+o, 1)))
		f.Add([]byte(strings.Replace(goodScene, "H: {at: [8, -1]}", "H: "+o, 1)))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		s, err := book.ReadScene("f.yaml", data, book.Builtin())
		if err != nil {
			wellSaid(t, err)
			return
		}
		for _, m := range s.Offense {
			if !s.Ball.Inside(m.At) {
				t.Fatalf("%s off the field", m.Tag)
			}
		}
		if s.Call == nil || len(s.Offense) == 0 || len(s.Defense) == 0 {
			t.Fatal("half a scene")
		}
	})
}

func FuzzReadBook(f *testing.F) {
	f.Add([]byte(goodBook))
	f.Add([]byte(soundCall))
	for _, w := range flaws {
		f.Add([]byte(strings.Replace(soundCall, w.old, w.new, 1)))
	}
	f.Add([]byte("book: 1\nname: A\nsettings:\n  two-read: {corner: inside, apex: force, wheel: safety}\n  match-line: 10\n  kick-outs: spill\n"))
	for _, o := range odd {
		f.Add([]byte(o))
		f.Add([]byte(strings.Replace(goodBook, "from: quarters", "from: "+o, 1)))
		f.Add([]byte(strings.Replace(goodBook, "role: corner", "role: "+o, 1)))
		f.Add([]byte(strings.Replace(goodBook, "Z: {at: [18, -0.5]", "Z: {at: "+o, 1)))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		b, err := book.Read("f.yaml", data)
		if err != nil {
			wellSaid(t, err)
			return
		}
		for _, l := range b.Looks {
			if v := l.Shown.Violations(); len(v) > 0 {
				t.Fatalf("illegal look %s: %v", l.ID, v)
			}
		}
		for _, k := range b.Athletes.ByKind {
			if err := k.Validate(); err != nil {
				t.Fatal(err)
			}
		}
	})
}

func TestTooLargeAndTooDeep(t *testing.T) {
	large := []byte(goodScene + "#" + strings.Repeat("x", 1<<20))
	_, err := book.ReadScene("a.scene.yaml", large, book.Builtin())
	assert.EqualError(t, err, fmt.Sprintf("a.scene.yaml:1:1: file of %d bytes: at most 1 MiB", len(large)))
	_, err = book.Read("b.book.yaml", large)
	assert.EqualError(t, err, fmt.Sprintf("b.book.yaml:1:1: file of %d bytes: at most 1 MiB", len(large)))

	_, err = book.Read("b.book.yaml", []byte("book: "+strings.Repeat("[", 30)+strings.Repeat("]", 30)))
	assert.EqualError(t, err, "b.book.yaml:1:23: nested too deep: at most 16 levels")
	_, err = book.Read("b.book.yaml", []byte(strings.Repeat("[", 1<<19)))
	require.Error(t, err, "half a million brackets")
	_, err = book.Read("b.book.yaml", []byte("book: ["+strings.Repeat("1,", 60000)+"1]"))
	require.Error(t, err)
	assert.Contains(t, err.Error(), "too many values: at most 50000")
	assert.Equal(t, "a:1:2: b", book.Problem{File: "a", Line: 1, Col: 2, What: "b"}.Error())
}
