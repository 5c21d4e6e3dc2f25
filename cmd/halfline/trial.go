package main

import (
	"errors"
	"flag"
	"fmt"
	"slices"
	"strings"

	"halfline/internal/book"
	"halfline/internal/judge"
	"halfline/internal/play"
	"halfline/internal/rep"
)

// trialFlags are what rep and cost are asked.
type trialFlags struct {
	book, errors, out, eyes string
	seed                    uint64
	seeded, explain, bump   bool
	reps, force, columns    int
}

// trial is a scene ready to be run: the board, its play, and the rules that are
// to be broken.
type trial struct {
	trialFlags
	name  string // of the file
	scene *book.Scene
	staff *book.Book
	board judge.Board
	ready *judge.Reps
	errs  []namedError
}

// namedError is a rule that a man is to break on purpose.
type namedError struct {
	who  string
	what rep.Error
}

// outs are the forms in which a rep is told.
var outs = []string{"json", "trace", "svg"}

func (f *trialFlags) repFlags(fs *flag.FlagSet) {
	fs.StringVar(&f.out, "out", "json", "json, trace or svg")
	fs.IntVar(&f.force, "force", -1, "lane that the carrier must take")
	fs.BoolVar(&f.bump, "bump", false, "let the defense line up anew for the play's motion")
	fs.IntVar(&f.columns, "columns", 3, "of the film strip, 1 to 4: 1 for a phone")
	fs.StringVar(&f.eyes, "eyes", "offense", "whose eyes the film strip is seen with: offense or defense")
}

func (f *trialFlags) costFlags(fs *flag.FlagSet) {
	fs.IntVar(&f.reps, "reps", 1000, "reps of each")
	f.force = -1
}

// readTrial reads what both commands take. It is nil when there is nothing more
// to do, with the exit code.
func readTrial(s stdio, name, page string, args []string, own func(*trialFlags, *flag.FlagSet), allows func(*trialFlags) error) (*trial, int) {
	t := &trial{}
	fs := flag.NewFlagSet(name, flag.ContinueOnError)
	fs.StringVar(&t.book, "book", "", "a staff's book instead of the built-in one")
	fs.StringVar(&t.errors, "error", "", "rules broken on purpose: SPOT=ERROR, with commas")
	fs.Uint64Var(&t.seed, "seed", 0, "seed of the spread")
	fs.BoolVar(&t.explain, "explain", false, explainUsage)
	own(&t.trialFlags, fs)
	if err := parse(s, fs, page, args); err != nil {
		if errors.Is(err, errHelp) {
			return nil, exitDone
		}
		return nil, s.fail(exitInput, err)
	}
	fs.Visit(func(x *flag.Flag) { t.seeded = t.seeded || x.Name == "seed" })
	t.seeded = t.seeded || s.env("HALFLINE_SEED") != ""
	if fs.NArg() != 1 {
		return nil, s.fail(exitInput, fmt.Errorf("%s: %d files: want one, or - for standard input", name, fs.NArg()))
	}
	if err := allows(&t.trialFlags); err != nil {
		return nil, s.fail(exitInput, err)
	}
	t.name = fs.Arg(0)
	if err := t.read(s); err != nil {
		return nil, s.fail(exitInput, err)
	}
	return t, -1
}

func (t *trial) read(s stdio) error {
	var err error
	if t.scene, t.staff, err = readScene(s, t.book, t.name); err != nil {
		return err
	}
	t.board = judge.FromScene(t.scene, t.staff)
	if t.ready, err = judge.NewReps(&t.board, t.scene.Play); err != nil {
		return fmt.Errorf("%s: %w", t.name, err)
	}
	if t.errs, err = namedErrors(t.ready, t.errors); err != nil {
		return err
	}
	return t.forces()
}

// forces refuses a lane that the play does not make.
func (t *trial) forces() error {
	p := t.ready.Picture
	switch most := len(p.Blocks); {
	case t.force == -1:
		return nil
	case p.Play.Kind == play.Pass:
		return fmt.Errorf("--force: %d: a pass makes no lanes: leave it out", t.force)
	case t.force < 0 || t.force > most:
		return fmt.Errorf("--force: %d: want a lane of this play, 0 to %d", t.force, most)
	}
	return nil
}

// namedErrors reads SPOT=ERROR,... .
func namedErrors(r *judge.Reps, t string) ([]namedError, error) {
	var out []namedError
	for _, p := range list(t) {
		who, what, ok := strings.Cut(p, "=")
		if !ok {
			return nil, fmt.Errorf("--error: %q: want SPOT=ERROR, such as N=over-the-top", p)
		}
		if _, err := r.Error(who, rep.Error(what)); err != nil {
			return nil, fmt.Errorf("--error: %w: want one of %s, fitting his job", err, errorNames())
		}
		out = append(out, namedError{who, rep.Error(what)})
	}
	return out, nil
}

func errorNames() string {
	var n []string
	for _, e := range rep.Errors {
		n = append(n, string(e))
	}
	return strings.Join(n, ", ")
}

// breaks are the errors of one rep: a man breaks one rule.
func (t *trial) breaks() (map[string]rep.Error, error) {
	out := map[string]rep.Error{}
	for _, e := range t.errs {
		if _, twice := out[e.who]; twice {
			return nil, fmt.Errorf("rep: --error: %s is named twice: want one error a man", e.who)
		}
		out[e.who] = e.what
	}
	return out, nil
}

// told lists what was asked for beside the scene, for who reads the answer later.
func (t *trial) told() []string {
	var out []string
	for _, e := range t.errs {
		out = append(out, fmt.Sprintf("%s breaks his rule on purpose: %s", e.who, judge.FaultWords(string(e.what))))
	}
	if t.force >= 0 {
		out = append(out, fmt.Sprintf("the ball is made to take lane %d", t.force))
	}
	if t.bump {
		out = append(out, "the defense lines up anew for the motion")
	}
	if t.seeded {
		out = append(out, fmt.Sprintf("with the spread of real reps, seed %d", t.seed))
	} else {
		out = append(out, "everybody at his stated best")
	}
	return out
}

func allowsRep(f *trialFlags) error {
	switch {
	case !slices.Contains(outs, f.out):
		return fmt.Errorf("rep: --out: %q: want json, trace or svg", f.out)
	case f.columns < 1 || f.columns > 4:
		return fmt.Errorf("rep: --columns: %d: want 1 to 4", f.columns)
	case f.eyes != "offense" && f.eyes != "defense":
		return fmt.Errorf("rep: --eyes: %q: want offense or defense", f.eyes)
	case f.explain && f.out == "svg":
		return fmt.Errorf("rep: --explain: a picture has no room for it: use it with --out json or trace")
	}
	return nil
}

func allowsCost(f *trialFlags) error {
	if f.reps < 10 || f.reps > 100000 {
		return fmt.Errorf("cost: --reps: %d: want 10 to 100000", f.reps)
	}
	return nil
}
