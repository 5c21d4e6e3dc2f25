package main

import (
	"context"
	"flag"
	"fmt"
	"io"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
)

// promised are the benchmarks whose figures the README shows, in its order.
// They may live in any package; a benchmark named after one of them with
// "Baseline" behind it, or a sub-benchmark "baseline", is what it is compared
// with.
var promised = []string{
	"BenchmarkReachRest", "BenchmarkReachMoving", "BenchmarkCheck3v3", "BenchmarkCheck11v11",
	"BenchmarkPocket", "BenchmarkRep3v3", "BenchmarkRep11v11", "BenchmarkCost1000", "BenchmarkApply",
	"BenchmarkEncodeMove", "BenchmarkFanout25", "BenchmarkAppendEmbedded", "BenchmarkAppendRedis",
}

// benchUsage is how the chore is called.
const benchUsage = "go run ./cmd/dev bench [--count N] [NAME...|story]"

// defaultCount is how often each benchmark is run; the table shows the median,
// which one disturbance on a shared machine cannot move.
const defaultCount = 5

// runBench measures the promised benchmarks, or those named, and prints the
// table, and the figures of the whole product under it.
func runBench(ctx context.Context, s *shop, args []string) error {
	flags := flag.NewFlagSet("bench", flag.ContinueOnError)
	flags.SetOutput(io.Discard)
	count := flags.Int("count", defaultCount, "")
	if err := flags.Parse(args); err != nil || *count < 1 {
		return badInput("bench", "does not understand its flags", benchUsage)
	}
	names, story := promised, true
	if flags.NArg() > 0 {
		names, story = nil, false
		for _, name := range flags.Args() {
			if name == storyName {
				story = true
				continue
			}
			names = append(names, "Benchmark"+strings.TrimPrefix(name, "Benchmark"))
		}
	}
	homes, err := s.benchHomes(ctx)
	if err != nil {
		return err
	}
	if flags.NArg() > 0 {
		for _, name := range names {
			if homes[name] == "" {
				return badInput("bench", "no package has "+name, "name one of "+strings.Join(homed(homes), ", "))
			}
		}
	}

	results := newResults()
	var absent []string
	for _, name := range names {
		home := homes[name]
		if home == "" {
			absent = append(absent, name)
			continue
		}
		fmt.Fprintf(s.stderr, "measuring %s in %s\n", name, home)
		out, err := s.command(ctx, s.root, "go", "test", "-run", "^$", "-bench", "^"+name+"(Baseline.*)?$",
			"-benchmem", "-count", fmt.Sprint(*count), "./"+home).CombinedOutput()
		if err != nil {
			fmt.Fprintln(s.stdout, string(out))
			return no(name, "failed (above)", "mend it in "+home)
		}
		results.read(string(out))
	}
	if len(results.order) > 0 {
		results.table(s.stdout)
	}
	if story {
		figures, err := s.runStory(ctx)
		if err != nil {
			return err
		}
		fmt.Fprintln(s.stdout)
		storyLines(s.stdout, figures)
	}
	return sayAbsent(absent)
}

// sayAbsent complains of promised benchmarks that no package has.
func sayAbsent(absent []string) error {
	if len(absent) == 0 {
		return nil
	}
	return no("bench", "no package has "+strings.Join(absent, ", "), "write them: the README promises their figures")
}

var benchFunc = regexp.MustCompile(`(?m)^func (Benchmark\w+)\(`)

// benchHomes finds the folder of every benchmark in the tree by reading, which
// spares compiling the packages that have none.
func (s *shop) benchHomes(ctx context.Context) (map[string]string, error) {
	files, err := s.treeFiles(ctx, s.root)
	if err != nil {
		return nil, err
	}
	homes := map[string]string{}
	for _, name := range files {
		if !strings.HasSuffix(name, "_test.go") {
			continue
		}
		text, err := readText(filepath.Join(s.root, name))
		if err != nil {
			return nil, machine(name, err, "make it readable")
		}
		for _, found := range benchFunc.FindAllStringSubmatch(text, -1) {
			homes[found[1]] = filepath.ToSlash(filepath.Dir(name))
		}
	}
	return homes, nil
}

func homed(homes map[string]string) []string {
	var names []string
	for name := range homes {
		names = append(names, name)
	}
	slices.Sort(names)
	return names
}
