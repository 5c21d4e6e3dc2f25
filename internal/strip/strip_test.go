package strip_test

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"halfline/internal/field"
	"halfline/internal/judge"
	"halfline/internal/rep"
	"halfline/internal/strip"
)

var update = flag.Bool("update", false, "write the golden strips anew")

const caution = "Head up, never lead with the helmet."

// A run with a rule broken to the right, a pass to the left.
func TestGoldenStrips(t *testing.T) {
	for name, c := range map[string]struct {
		call, play string
		side       field.Side
		errs       map[string]rep.Error
	}{
		"toss-right": {"two-read", "toss", field.Right, map[string]rep.Error{"N": rep.OverTheTop}},
		"wheel-left": {"quarters", "wheel", field.Left, map[string]rep.Error{"C": rep.Early}},
	} {
		t.Run(name, func(t *testing.T) {
			b := board(t, c.call, c.side, field.MiddleHash)
			tr := replay(t, &b, c.play, c.errs)
			got := strip.Draw(tr, &b, caution, strip.Options{Notes: []string{"a note"}})
			assert.Equal(t, string(got), string(strip.Draw(tr, &b, caution, strip.Options{Notes: []string{"a note"}})), "the same question has the same answer")
			golden := filepath.Join("testdata", name+".svg")
			if *update {
				require.NoError(t, os.MkdirAll("testdata", 0o755))
				require.NoError(t, os.WriteFile(golden, got, 0o644))
			}
			want, err := os.ReadFile(golden)
			require.NoError(t, err)
			assert.Equal(t, string(want), string(got), "run the test with -update and look at what changed")
		})
	}
}

// Every shipped play, in three calls, on both sides and with both eyes: a document
// that stands alone, of five to eight panels, first the snap and last the end.
func TestEveryPlayHasAStrip(t *testing.T) {
	for _, call := range []string{"two-read", "quarters", "3-sky"} {
		for _, pl := range plays() {
			for _, side := range []field.Side{field.Right, field.Left} {
				b := board(t, call, side, field.MiddleHash)
				tr, err := judge.Replay(&b, pl, judge.RepOptions{Force: -1})
				if err != nil {
					assert.Contains(t, err.Error(), "cannot run", "%s %s", call, pl.ID)
					continue
				}
				for _, eyes := range []strip.Eyes{strip.Offense, strip.Defense} {
					stands(t, fmt.Sprintf("%s %s %s", call, pl.ID, side), tr, strip.Draw(tr, &b, caution, strip.Options{Eyes: eyes}))
				}
			}
		}
	}
}

var number = regexp.MustCompile(`^-?\d+(\.\d)?$`)

func stands(t *testing.T, name string, tr *judge.Track, doc []byte) {
	es := parsed(t, doc)
	require.NotEmpty(t, es)
	root := es[0]
	assert.Equal(t, "svg", root.name, name)
	assert.Equal(t, "img", root.attrs["role"])
	assert.Equal(t, "title desc", root.attrs["aria-labelledby"])
	var times []float64
	var texts []string
	for _, e := range es {
		assert.NotContains(t, []string{"script", "image", "foreignObject", "a", "use", "animate"}, e.name, name)
		for k, v := range e.attrs {
			assert.NotContains(t, []string{"href", "src", "onload"}, k, name)
			switch k {
			case "x", "y", "cx", "cy", "x1", "x2", "y1", "y2", "width", "height", "r":
				assert.Regexp(t, number, v, "%s: %s %s", name, e.name, k)
			}
			assert.False(t, strings.Contains(v, "://") && k != "xmlns" && e.depth > 0, v)
		}
		if strings.Contains(e.attrs["class"], "time") && strings.HasSuffix(e.text, " s") {
			v, err := strconv.ParseFloat(strings.TrimSuffix(e.text, " s"), 64)
			require.NoError(t, err)
			times = append(times, v)
		}
		if e.name == "title" || e.name == "desc" || e.name == "text" {
			texts = append(texts, e.text)
		}
	}
	assert.True(t, len(times) >= 5 && len(times) <= 8, "%s: %d panels", name, len(times))
	assert.True(t, slices.IsSorted(times), name)
	assert.Contains(t, times, 0.0, "%s: the snap", name)
	assert.InDelta(t, tr.End.T, times[len(times)-1], 0.006, "%s: the end", name)
	all := strings.Join(texts, " ")
	assert.NotContains(t, all, "NaN", name)
	assert.NotContains(t, all, "%!", name)
	for _, s := range []string{tr.Play.Name, tr.End.Say, "Caution. " + caution} {
		assert.Contains(t, all, s, name)
	}
	for i := range tr.Faults {
		assert.Contains(t, all, tr.Because(i), "%s: every fault is told", name)
	}
	for _, e := range tr.Events {
		if e.What == rep.Commits && e.T > 0.12 && e.T < tr.End.T-0.12 {
			assert.Contains(t, all, e.Say, "%s: the carrier's choice has its panel", name)
		}
	}
}

// The strip of the mirrored rep is the mirrored strip: the same signs in the same
// order with the same words, each across the middle of its panel.
func TestMirroredStrips(t *testing.T) {
	for _, eyes := range []strip.Eyes{strip.Offense, strip.Defense} {
		for _, hash := range []field.Hash{field.MiddleHash, field.RightHash, field.LeftHash} {
			for _, play := range []string{"toss", "bubble", "now", "wheel", "double-crack"} {
				name := fmt.Sprintf("%s %s eyes %d", play, hash, eyes)
				var docs [2][]element
				for i, side := range []field.Side{field.Right, field.Left} {
					b := board(t, "two-read", side, hash)
					tr := replay(t, &b, play, map[string]rep.Error{})
					docs[i] = parsed(t, strip.Draw(tr, &b, caution, strip.Options{Eyes: eyes}))
				}
				require.Len(t, docs[1], len(docs[0]), name)
				in := 0 // depth of the panel's field
				for i := range docs[0] {
					r, l := &docs[0][i], &docs[1][i]
					if r.depth <= in {
						in = 0
					}
					if r.name == "svg" && r.depth > 0 {
						in = r.depth
					}
					require.Equal(t, r.name, l.name, name)
					require.Equal(t, r.attrs["class"], l.attrs["class"], name)
					require.Equal(t, strings.ReplaceAll(r.text, "to the right", "to the left"), l.text, name)
					if in > 0 && r.depth > in {
						mirrors(t, name, r, l)
					}
				}
			}
		}
	}
}

// wide is a panel's width, over whose middle it is mirrored.
const wide = 340.0

func mirrors(t *testing.T, name string, r, l *element) {
	get := func(e *element, k string) float64 {
		v, err := strconv.ParseFloat(e.attrs[k], 64)
		require.NoError(t, err, "%s: %s of %s", name, k, e.name)
		return v
	}
	near := func(want, got float64, what string) {
		require.InDelta(t, want, got, 0.21, "%s: %s of %s %s", name, what, e(r), r.text)
	}
	switch r.name {
	case "circle":
		near(wide-get(r, "cx"), get(l, "cx"), "cx")
		near(get(r, "cy"), get(l, "cy"), "cy")
	case "rect":
		near(wide-get(r, "x")-get(r, "width"), get(l, "x"), "x")
		near(get(r, "y"), get(l, "y"), "y")
	case "line": // some are written from their left end
		ends := func(e *element) [][2]float64 {
			return [][2]float64{{get(e, "x1"), get(e, "y1")}, {get(e, "x2"), get(e, "y2")}}
		}
		a, b := sorted(ends(r), true), sorted(ends(l), false)
		for i := range a {
			near(wide-a[i][0], b[i][0], "x")
			near(a[i][1], b[i][1], "y")
		}
	case "text":
		if r.attrs["class"] == "numbers" {
			a, b := turned(t, r), turned(t, l) // a digit's foot is towards its own sideline
			near(wide-a[0], b[0], "x")
			near(a[1], b[1], "y")
			near(-a[2], b[2], "turn")
			return
		}
		near(wide-get(r, "x"), get(l, "x"), "x")
		near(get(r, "y"), get(l, "y"), "y")
		if r.attrs["text-anchor"] != "" {
			assert.NotEqual(t, r.attrs["text-anchor"], l.attrs["text-anchor"], name)
		}
	case "path":
		a, b := points(r.attrs["d"]), points(l.attrs["d"])
		require.Len(t, b, len(a), name)
		switch r.attrs["class"] {
		case "mark", "wedge": // they are written from their left end
			a, b = sorted(a, true), sorted(b, false)
		case "oval": // and so is the ball; its first control point is over its middle
			a, b = a[1:2], b[1:2]
		}
		for i := range a {
			near(wide-a[i][0], b[i][0], "x of a path")
			near(a[i][1], b[i][1], "y of a path")
		}
	}
}

var turn = regexp.MustCompile(`^translate\((\S+) (\S+)\) rotate\((\S+)\)$`)

func turned(t *testing.T, e *element) (out [3]float64) {
	m := turn.FindStringSubmatch(e.attrs["transform"])
	require.Len(t, m, 4)
	for i := range out {
		v, err := strconv.ParseFloat(m[i+1], 64)
		require.NoError(t, err)
		out[i] = v
	}
	return out
}

func e(x *element) string { return x.name + " " + x.attrs["class"] }

var pair = regexp.MustCompile(`(-?[\d.]+) (-?[\d.]+)`)

func points(d string) [][2]float64 {
	var out [][2]float64
	for _, m := range pair.FindAllStringSubmatch(d, -1) {
		x, _ := strconv.ParseFloat(m[1], 64)
		y, _ := strconv.ParseFloat(m[2], 64)
		out = append(out, [2]float64{x, y})
	}
	return out
}

// sorted orders points by y and then across, turned for the one to be mirrored.
func sorted(ps [][2]float64, turned bool) [][2]float64 {
	s := 1.0
	if turned {
		s = -1
	}
	slices.SortFunc(ps, func(a, b [2]float64) int {
		switch {
		case a[1] != b[1] && a[1] < b[1]-0.15:
			return -1
		case a[1] > b[1]+0.15:
			return 1
		case s*a[0] < s*b[0]:
			return -1
		case s*a[0] > s*b[0]:
			return 1
		}
		return 0
	})
	return ps
}

// Whatever a staff calls its men, plays and cautions, the document stays whole and
// says just that.
func TestTextsAreEscaped(t *testing.T) {
	const nasty = `<script>alert("x")</script> & 'so' ]]> ` + "\x01\x00\u2028ünï"
	b := board(t, "two-read", field.Right, field.MiddleHash)
	tr := replay(t, &b, "toss", map[string]rep.Error{"N": rep.OverTheTop})
	p := *tr.Play
	p.Name = nasty
	tr.Play = &p
	c := *b.Call
	c.Name = nasty
	b.Call = &c
	for i := range tr.Spots {
		if tr.Spots[i] == "N" {
			tr.Spots[i] = `N<&"`
		}
	}
	tr.End.Say = nasty
	doc := strip.Draw(tr, &b, nasty, strip.Options{Notes: []string{nasty}})
	var tag, title bool
	for _, e := range parsed(t, doc) {
		assert.NotEqual(t, "script", e.name)
		tag = tag || e.text == `N<&"`
		title = title || e.name == "title" && strings.Contains(e.text, `<script>alert("x")</script> & 'so' ]]>`)
	}
	assert.True(t, tag)
	assert.True(t, title)
}
