package book

import (
	"fmt"
	"slices"
	"sort"
	"strings"
)

// Problem is one mistake in a file.
type Problem struct {
	File      string
	Line, Col int
	What      string // what was found
	Want      string // what would be accepted
}

func (p Problem) Error() string {
	s := fmt.Sprintf("%s:%d:%d: %s", p.File, p.Line, p.Col, p.What)
	if p.Want != "" {
		s += ": " + p.Want
	}
	return s
}

// Problems are all mistakes of one file, in the order of the file.
type Problems []Problem

func (ps Problems) Error() string {
	lines := make([]string, len(ps))
	for i, p := range ps {
		lines[i] = p.Error()
	}
	return strings.Join(lines, "\n")
}

// sorted puts problems in the order of the file; a mapping that is read twice
// (a spot that others are like) tells its mistakes once.
func (ps Problems) sorted() Problems {
	sort.SliceStable(ps, func(i, j int) bool {
		if ps[i].Line != ps[j].Line {
			return ps[i].Line < ps[j].Line
		}
		return ps[i].Col < ps[j].Col
	})
	return slices.Compact(ps)
}
