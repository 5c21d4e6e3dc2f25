package main

import (
	"errors"
	"flag"
	"fmt"
	"io"
	"strings"
)

// parse reads flags, with environment twins HALFLINE_<FLAG> behind them. A
// mistake is one line; --help prints the command's page and gives errHelp.
func parse(s stdio, fs *flag.FlagSet, page string, args []string) error {
	fs.SetOutput(io.Discard)
	fs.Usage = func() {}
	var bad error
	fs.VisitAll(func(f *flag.Flag) {
		key := "HALFLINE_" + strings.ToUpper(strings.ReplaceAll(f.Name, "-", "_"))
		if v := s.env(key); v != "" {
			if err := f.Value.Set(v); err != nil && bad == nil {
				bad = fmt.Errorf("%s: value %q: %s", key, v, f.Usage)
			}
		}
	})
	if bad != nil {
		return bad
	}
	err := fs.Parse(args)
	if errors.Is(err, flag.ErrHelp) {
		fmt.Fprintln(s.out, page)
		fs.VisitAll(func(f *flag.Flag) {
			fmt.Fprintf(s.out, "  --%s  %s\n", f.Name, f.Usage)
		})
		return errHelp
	}
	if err != nil {
		return fmt.Errorf("%s: %s: see halfline %s --help", fs.Name(), strings.TrimPrefix(err.Error(), "flag "), fs.Name())
	}
	return nil
}
