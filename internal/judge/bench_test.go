package judge_test

import (
	"testing"

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

func benchRun(b *testing.B, board judge.Board) {
	b.ReportAllocs()
	for b.Loop() {
		r := judge.Run(&board)
		if len(r.Spots) != len(board.Spots) {
			b.Fatal("spots are missing")
		}
	}
}

func BenchmarkCheck3v3(b *testing.B) {
	b.Run("menu4", func(b *testing.B) { benchRun(b, half(b, four...)) })
	b.Run("astray", func(b *testing.B) { benchRun(b, astray(half(b, four...))) })
}

func BenchmarkCheck11v11(b *testing.B) {
	b.Run("menu4", func(b *testing.B) { benchRun(b, full(b, four...)) })
	b.Run("menu8", func(b *testing.B) { benchRun(b, eight(full(b))) })
	b.Run("astray", func(b *testing.B) { benchRun(b, eight(astray(full(b)))) })
}
