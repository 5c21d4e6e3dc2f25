package web

import (
	"strconv"
	"strings"

	"rsc.io/qr"
)

// qrPath draws the dark modules of a code as one SVG path, a rectangle for each
// run along a row.
func qrPath(c *qr.Code) string {
	var b strings.Builder
	for y := range c.Size {
		for x := 0; x < c.Size; x++ {
			if !c.Black(x, y) {
				continue
			}
			from := x
			for x < c.Size && c.Black(x, y) {
				x++
			}
			n := strconv.Itoa(x - from)
			b.WriteString("M" + strconv.Itoa(from) + " " + strconv.Itoa(y) + "h" + n + "v1h-" + n + "z")
		}
	}
	return b.String()
}
