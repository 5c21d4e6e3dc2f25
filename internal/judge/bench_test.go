package judge_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"

	"halfline/internal/book"
	"halfline/internal/field"
	"halfline/internal/judge"
)

// full is eleven against eleven, everybody where his rule likes him best: the
// two-receiver side to the right, one man split on the left.
func full(t testing.TB, menu ...string) judge.Board {
	men := []at{{"SN", 0, 0}, {"LG", -1.5, 0}, {"RG", 1.5, 0}, {"LT", -3, 0}, {"RT", 3, 0},
		{"Q", 0, -5}, {"B", 1.5, -5}, {"Z", 18, -0.5}, {"H", 9, -1}, {"X", -14, -0.5}, {"W", -8, -1}}
	spots := []at{{"C", 19, 7}, {"N", 7, 5}, {"FS", 8, 10.5}, {"LB", 2, 4.5}, {"BC", -15, 7}, {"BN", -5.5, 5}, {"SS", -7, 10.5}, {"BL", -2, 4.5}, {"E", 4, 1}, {"T", 1, 1}, {"BE", -3, 1}}
	b := setup{call: "two-read", side: field.Right, menu: menu}.board(t, men, spots)
	for i := range b.Men {
		b.Men[i].Line = b.Men[i].At.Y > -36
	}
	return b
}

// half is three defenders against the five men of a half-line drill.
func half(t testing.TB, menu ...string) judge.Board {
	return setup{call: "two-read", side: field.Right, menu: menu}.board(t,
		[]at{{"SN", 0, 0}, {"Q", 0, -5}, {"B", 1.5, -5}, {"Z", 18, -0.5}, {"H", 9, -1}},
		[]at{{"C", 19, 7}, {"N", 7, 5}, {"FS", 8, 10.5}})
}

// astray puts everybody where he is wrong, so that each needs a fix.
func astray(b judge.Board) judge.Board {
	for i := range b.Spots {
		b.Spots[i].At = b.Spots[i].At.Add(field.Offset{X: -90, Y: 110})
	}
	return b
}

var four = []string{"toss", "swing", "bubble", "now"}

// eight is a menu of eight plays: the built-in ones and the wider toss again.
func eight(b judge.Board) judge.Board {
	b.Menu = append(b.Menu[:0:0], book.Builtin().MenuPlays([]string{"toss", "swing", "bubble", "now", "wheel", "bubble-and-go", "verticals"})...)
	again := *b.Menu[0]
	again.ID, again.CommitsAt.X = "wide-toss", 5
	b.Menu = append(b.Menu, &again)
	return b
}

// benchRun judges one board again and again in the same memory, as a session
// does while men are dragged; the words are not asked for. Before each judgement
// turn may change the board.
func benchRun(b *testing.B, board judge.Board, turn func(*judge.Board, int)) {
	var j judge.Judge
	var r judge.Result
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		if turn != nil {
			turn(&board, i)
		}
		j.Run(&board, &r)
		if len(r.Spots) != len(board.Spots) {
			b.Fatal("spots are missing")
		}
	}
}

// slotMoves drags the slot to and fro, so that nothing of the offense can be
// kept from one judgement to the next.
func slotMoves(b *judge.Board, i int) {
	for k := range b.Men {
		if b.Men[k].Tag == "H" {
			b.Men[k].At.X += field.Inches(i%2*2 - 1)
		}
	}
}

func BenchmarkCheck3v3(b *testing.B) {
	b.Run("menu4", func(b *testing.B) { benchRun(b, half(b, four...), nil) })
	b.Run("astray", func(b *testing.B) { benchRun(b, astray(half(b, four...)), nil) })
}

// BenchmarkCheck11v11 is promised at < 50 us and nothing allocated.
func BenchmarkCheck11v11(b *testing.B) {
	b.Run("menu4", func(b *testing.B) { benchRun(b, full(b, four...), nil) })
	b.Run("menu8", func(b *testing.B) { benchRun(b, eight(full(b)), nil) })
	b.Run("menu8-offense-moves", func(b *testing.B) { benchRun(b, eight(full(b)), slotMoves) })
	b.Run("menu8-astray", func(b *testing.B) { benchRun(b, eight(astray(full(b))), nil) })
}

// A judgement in steady state allocates nothing, whatever is wrong on the board.
func TestJudgeAllocatesNothing(t *testing.T) {
	for name, b := range map[string]judge.Board{"3 v 3": half(t, four...), "11 v 11": eight(full(t)), "all astray": eight(astray(full(t)))} {
		var j judge.Judge
		var r judge.Result
		j.Run(&b, &r)
		n := 0
		assert.Zero(t, testing.AllocsPerRun(50, func() {
			slotMoves(&b, n)
			n++
			j.Run(&b, &r)
		}), name)
	}
}

// BenchmarkGrowth is how a judgement grows with men and menu, and a pocket with
// the menu.
func BenchmarkGrowth(b *testing.B) {
	whole, three := full(b, four...), half(b, four...)
	seven := whole
	seven.Spots = whole.Spots[:7]
	for _, s := range []struct {
		name  string
		board judge.Board
	}{{"3v5", three}, {"7v11", seven}, {"11v11", whole}} {
		menu := eight(s.board)
		for _, n := range []int{1, 2, 4, 8} {
			board := s.board
			board.Menu = menu.Menu[:n]
			b.Run(fmt.Sprintf("check-%s-menu%d", s.name, n), func(b *testing.B) { benchRun(b, board, nil) })
		}
	}
	for _, n := range []int{1, 4, 8} {
		board := whole
		e := eight(whole)
		board.Menu = e.Menu[:n]
		b.Run(fmt.Sprintf("pocket-41x41-menu%d", n), func(b *testing.B) {
			for b.Loop() {
				judge.Pocket(&board, "FS")
			}
		})
	}
}
