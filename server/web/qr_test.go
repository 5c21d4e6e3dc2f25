package web

import (
	"regexp"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
	"rsc.io/qr"
)

// raster fills the rectangles of a path as a browser would, and fails on
// anything else that a path could hold.
func raster(t require.TestingT, path string, size int) [][]bool {
	out := make([][]bool, size)
	for y := range out {
		out[y] = make([]bool, size)
	}
	step := regexp.MustCompile(`^M(\d+) (\d+)h(\d+)v1h-(\d+)z`)
	for path != "" {
		m := step.FindStringSubmatch(path)
		require.NotNil(t, m, "%.40s", path)
		path = path[len(m[0]):]
		n := [4]int{}
		for i := range n {
			n[i], _ = strconv.Atoi(m[i+1]) // digits, by the pattern
		}
		require.Equal(t, n[2], n[3], "closed")
		require.Positive(t, n[2])
		require.LessOrEqual(t, n[0]+n[2], size)
		require.Less(t, n[1], size)
		for x := n[0]; x < n[0]+n[2]; x++ {
			require.False(t, out[n[1]][x], "no module twice")
			out[n[1]][x] = true
		}
	}
	return out
}

func TestPathIsTheCode(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		text := rapid.StringN(1, 60, 120).Draw(r, "text")
		c, err := qr.Encode(text, qr.M)
		require.NoError(r, err)
		got := raster(r, qrPath(c), c.Size)
		for y := range c.Size {
			for x := range c.Size {
				require.Equal(r, c.Black(x, y), got[y][x], "%d %d", x, y)
			}
		}
	})
}

// TestPathCanBeRead reads the drawn path back by the rules of the format, as a
// phone's camera does.
func TestPathCanBeRead(t *testing.T) {
	for _, link := range []string{"http://192.168.1.10:8080/#join=7K2M4P", "http://10.0.0.7:80/#join=ZZZ999", "https://board.example/#join=7K2M4PXY"} {
		c, err := qr.Encode(link, qr.M)
		require.NoError(t, err)
		require.Equal(t, 29, c.Size, "version 3, which readQR reads")
		assert.Equal(t, link, readQR(t, raster(t, qrPath(c), c.Size)))
	}
}

// readQR reads a symbol of version 3 (29 modules, one alignment pattern), level
// M (one block, 44 data bytes first), byte mode, without mending errors: ISO/IEC
// 18004:2015, sections 6.3 (function patterns), 7.7.3 (placement), 7.8 (masks),
// 7.9 (format information), 7.4.5 (byte mode).
func readQR(t *testing.T, dark [][]bool) string {
	const size, dataBytes = 29, 44
	format := 0
	for _, at := range [][2]int{{0, 8}, {1, 8}, {2, 8}, {3, 8}, {4, 8}, {5, 8}, {7, 8}, {8, 8}, {8, 7}, {8, 5}, {8, 4}, {8, 3}, {8, 2}, {8, 1}, {8, 0}} {
		format <<= 1 // the highest bit first, from the left end of row 8
		if dark[at[1]][at[0]] {
			format |= 1
		}
	}
	format ^= 0b101010000010010
	require.Equal(t, 0b00, format>>13, "level M")
	masks := [8]func(y, x int) bool{
		func(y, x int) bool { return (y+x)%2 == 0 },
		func(y, _ int) bool { return y%2 == 0 },
		func(_, x int) bool { return x%3 == 0 },
		func(y, x int) bool { return (y+x)%3 == 0 },
		func(y, x int) bool { return (y/2+x/3)%2 == 0 },
		func(y, x int) bool { return y*x%2+y*x%3 == 0 },
		func(y, x int) bool { return (y*x%2+y*x%3)%2 == 0 },
		func(y, x int) bool { return ((y+x)%2+y*x%3)%2 == 0 },
	}
	mask := masks[format>>10&7]
	function := func(y, x int) bool {
		finder := y < 9 && (x < 9 || x >= size-8) || y >= size-8 && x < 9
		alignment := y >= 20 && y < 25 && x >= 20 && x < 25
		return finder || alignment || y == 6 || x == 6
	}
	var bits []bool
	up := true
	for right := size - 1; right > 0; right -= 2 {
		if right == 6 { // the timing column is passed over
			right--
		}
		for i := range size {
			y := i
			if up {
				y = size - 1 - i
			}
			for x := right; x > right-2; x-- {
				if !function(y, x) {
					bits = append(bits, dark[y][x] != mask(y, x))
				}
			}
		}
		up = !up
	}
	take := func(n int) (v int) {
		for _, b := range bits[:n] {
			v <<= 1
			if b {
				v |= 1
			}
		}
		bits = bits[n:]
		return v
	}
	require.Equal(t, 0b0100, take(4), "byte mode")
	text := make([]byte, take(8))
	require.LessOrEqual(t, len(text), dataBytes-2)
	for i := range text {
		text[i] = byte(take(8))
	}
	return string(text)
}
