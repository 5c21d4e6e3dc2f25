package main

import (
	"fmt"
	"io"
	"math"
	"os"
	"regexp"
	"slices"
	"strconv"
	"strings"
)

// results gathers the figures of benchmark runs: for each benchmark, for each
// unit, one figure per run.
type results struct {
	order   []string
	figures map[string]map[string][]float64
}

func newResults() *results {
	return &results{figures: map[string]map[string][]float64{}}
}

// benchLine is a result line of go test: a name with the number of processors
// behind it, the number of iterations, then pairs of figure and unit.
var benchLine = regexp.MustCompile(`(?m)^(Benchmark\S+?)(?:-\d+)?\s+\d+\s+(.+)$`)

func (r *results) read(out string) {
	for _, found := range benchLine.FindAllStringSubmatch(out, -1) {
		name, fields := found[1], strings.Fields(found[2])
		if r.figures[name] == nil {
			r.order = append(r.order, name)
			r.figures[name] = map[string][]float64{}
		}
		for i := 0; i+1 < len(fields); i += 2 {
			if value, err := strconv.ParseFloat(fields[i], 64); err == nil {
				r.figures[name][fields[i+1]] = append(r.figures[name][fields[i+1]], value)
			}
		}
	}
}

// table prints one row per benchmark and one column per unit. Where a baseline
// was measured in the same run, the ratio to it stands behind the figure.
func (r *results) table(w io.Writer) {
	units := r.units()
	fmt.Fprintf(w, "| benchmark | %s |\n", strings.Join(units, " | "))
	fmt.Fprintf(w, "|---|%s\n", strings.Repeat("---:|", len(units)))
	for _, name := range r.order {
		cells := make([]string, 0, len(units))
		base := r.baseline(name)
		for _, unit := range units {
			cells = append(cells, r.cell(name, base, unit))
		}
		fmt.Fprintf(w, "| %s | %s |\n", strings.TrimPrefix(name, "Benchmark"), strings.Join(cells, " | "))
	}
}

func (r *results) cell(name, base, unit string) string {
	values := r.figures[name][unit]
	if len(values) == 0 {
		return "–"
	}
	value := median(values)
	text := figure(value)
	if against := r.figures[base][unit]; len(against) > 0 && median(against) > 0 {
		text += " (" + ratio(value/median(against)) + ")"
	}
	return text
}

// ratio words how many times the baseline a figure is.
func ratio(of float64) string {
	if of < 10 {
		return fmt.Sprintf("%.2f of baseline", of)
	}
	step := math.Pow10(int(math.Log10(of)) - 1) // two significant digits
	return fmt.Sprintf("%.0f times baseline", math.Round(of/step)*step)
}

// baseline is the benchmark that name is compared with, "" if none. Of several
// the longest fitting name counts, so X/fast is compared with X/baseline.
func (r *results) baseline(name string) string {
	if strings.Contains(name, "Baseline") || strings.HasSuffix(name, "/baseline") {
		return ""
	}
	best, bestStem := "", ""
	for _, other := range r.order {
		stem, ok := strings.CutSuffix(other, "/baseline")
		if !ok {
			stem, _, ok = strings.Cut(other, "Baseline")
		}
		fits := ok && (name == stem || strings.HasPrefix(name, stem+"/"))
		if fits && len(stem) >= len(bestStem) {
			best, bestStem = other, stem
		}
	}
	return best
}

// units lists the columns: Go's own three first, then the benchmarks' own.
func (r *results) units() []string {
	units := []string{"ns/op", "B/op", "allocs/op"}
	var own []string
	for _, figures := range r.figures {
		for unit := range figures {
			if !slices.Contains(units, unit) && !slices.Contains(own, unit) {
				own = append(own, unit)
			}
		}
	}
	slices.Sort(own)
	return append(units, own...)
}

func median(values []float64) float64 {
	sorted := slices.Sorted(slices.Values(values))
	middle := len(sorted) / 2
	if len(sorted)%2 == 1 {
		return sorted[middle]
	}
	return (sorted[middle-1] + sorted[middle]) / 2
}

// figure prints three significant digits below a thousand and whole numbers
// above: more would pretend to a precision that a shared machine has not.
func figure(v float64) string {
	if v >= 1000 {
		return strconv.FormatFloat(v, 'f', 0, 64)
	}
	return strconv.FormatFloat(v, 'g', 3, 64)
}

func readText(name string) (string, error) {
	text, err := os.ReadFile(name)
	return string(text), err
}
