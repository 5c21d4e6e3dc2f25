package handout_test

import (
	"fmt"
	"html"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"halfline/internal/book"
	"halfline/internal/call"
	"halfline/internal/handout"
	"halfline/internal/judge"
	"halfline/internal/strip"
)

func herons(t testing.TB) *book.Book {
	b, err := book.Cached()("herons")
	require.NoError(t, err)
	return b
}

func looks(b *book.Book) []*book.Look {
	out := make([]*book.Look, len(b.Looks))
	for i := range b.Looks {
		out[i] = &b.Looks[i]
	}
	return out
}

// stands holds a page to what every one has to be: whole, alone, with the cautions
// on each sheet and nobody's name or number.
func stands(t *testing.T, bk *book.Book, doc []byte, sheets int) {
	t.Helper()
	text := string(doc)
	assert.True(t, strings.HasPrefix(text, "<!doctype html>"))
	assert.Equal(t, sheets, strings.Count(text, `<section class="sheet">`))
	assert.Equal(t, sheets, strings.Count(text, html.EscapeString(strip.Model)), "every sheet says what it is")
	assert.Equal(t, sheets, strings.Count(text, "Caution. "+html.EscapeString(bk.Caution)))
	for _, never := range []string{"<script", "http:", "https:", " src=", " href=", "<link", "@import", " style=", "NaN", "%!"} {
		assert.NotContains(t, text, never)
	}
	for _, open := range []string{"section", "div", "ul", "li", "table", "svg", "style"} {
		tag := regexp.MustCompile("<" + open + "[ >]")
		assert.Equal(t, len(tag.FindAllString(text, -1)), strings.Count(text, "</"+open+">"), open)
	}
	for _, p := range bk.Squad {
		assert.NotRegexp(t, `\b`+p.Name+`\b`, text, "no name of a minor is on a page")
	}
}

// The card tells how far out everybody stands and who blocks whom. In a toss the
// outside men block the corner and the apex and the back has the ball (common
// practice, no source).
func TestScoutCard(t *testing.T) {
	bk := herons(t)
	c, _ := bk.Call("two-read")
	pl, _ := bk.Play("toss")
	for id, side := range map[string]string{"twins-right": "right", "twins-left": "left"} {
		l, _ := bk.Look(id)
		b := judge.LinedUp(bk, l, c)
		doc, err := handout.Scout(&b, pl, l.Name, bk.Caution)
		require.NoError(t, err)
		stands(t, bk, doc, 1)
		for _, row := range [][2]string{{"Z", "18 yd " + side + ", on the line"}, {"H", "9 yd " + side + ", 1 yd off"},
			{"Q", "on the ball, 5 yd off"}, {"Z", "stalks C"}, {"H", "stalks N"}, {"B", "has the ball"}} {
			assert.Contains(t, string(doc), fmt.Sprintf("<tr><th>%s</th><td>%s</td></tr>", row[0], row[1]))
		}
		assert.Contains(t, string(doc), "Toss to the "+side)
		assert.Contains(t, string(doc), "Ball: middle, own 42")
	}
}

// Every play of the book on every look: a card, or why there is none.
func TestEveryPlayHasACard(t *testing.T) {
	bk := herons(t)
	c, _ := bk.Call("quarters")
	cards := 0
	for _, l := range looks(bk) {
		for _, pl := range bk.Plays {
			b := judge.LinedUp(bk, l, c)
			doc, err := handout.Scout(&b, pl, l.Name, bk.Caution)
			if err != nil {
				assert.ErrorContains(t, err, "cannot run", "%s %s", l.ID, pl.ID)
				continue
			}
			cards++
			assert.NotContains(t, string(doc), "NaN", "%s %s", l.ID, pl.ID)
		}
	}
	assert.Greater(t, cards, len(bk.Plays))
}

// One call against 1 to 8 looks: a board each, each man's line under each, six on a
// sheet at most.
func TestInstallPage(t *testing.T) {
	bk := herons(t)
	c, _ := bk.Call("two-read")
	for n, sheets := range map[int]int{1: 1, 6: 1, 7: 2, 8: 2, len(bk.Looks): 2} {
		doc := handout.Install(bk, c, looks(bk)[:n])
		stands(t, bk, doc, sheets)
		shown := min(n, handout.MostLooks)
		assert.Equal(t, shown, strings.Count(string(doc), `role="img"`), "%d looks", n)
		for _, l := range bk.Looks[:shown] {
			assert.Contains(t, string(doc), "<h2>"+l.Name+"</h2>")
		}
		lines := strings.Count(string(doc), "<li><b>C</b>")
		assert.Equal(t, shown+1, lines, "the corner's line under each board, and once what is alike")
		assert.Contains(t, string(doc), "1 outside #1 (Z)", "the numbers are told as men")
	}
}

// A card for each call, eight to a sheet, a line for each spot.
func TestPocketCards(t *testing.T) {
	bk := herons(t)
	for n, sheets := range map[int]int{1: 1, len(bk.Calls): 1} {
		doc := handout.Pocket(bk.Calls[:n], bk.Caution)
		stands(t, bk, doc, sheets)
		assert.Equal(t, n, strings.Count(string(doc), `class="pocketcard"`))
	}
	nine := append(append([]*call.Call{}, bk.Calls...), bk.Calls[0])
	stands(t, bk, handout.Pocket(nine[:9], bk.Caution), 2)
	one := string(handout.Pocket(bk.Calls[:1], bk.Caution))
	for _, spot := range []string{"C", "N", "FS"} {
		assert.Contains(t, one, "<li><b>"+spot+"</b>")
	}
}

// Whatever a staff calls things, the page says just that.
func TestTextsAreEscaped(t *testing.T) {
	const nasty = `<script>alert("x")</script> & 'so'`
	bk := herons(t)
	c, _ := bk.Call("two-read")
	mine, staff := *c, *bk
	mine.Name, staff.Caution = nasty, nasty
	l := bk.Looks[0]
	l.Name = nasty
	doc := string(handout.Install(&staff, &mine, []*book.Look{&l}))
	assert.NotContains(t, doc, "<script")
	assert.Contains(t, doc, "&lt;script&gt;")
	assert.NotContains(t, string(handout.Pocket([]*call.Call{&mine}, nasty)), "<script")
}
