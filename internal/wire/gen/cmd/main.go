// Command cmd writes what package gen prints, and golden frames for examples
// that have none yet, into the tree whose root is its only argument. It is
// started by go generate.
package main

import (
	"fmt"
	"os"
	"path/filepath"

	"halfline/internal/wire/gen"
)

func main() {
	if err := run(os.Args[1:]); err != nil {
		fmt.Fprintln(os.Stderr, "gen:", err)
		os.Exit(1)
	}
}

func run(args []string) error {
	if len(args) != 1 {
		return fmt.Errorf("arguments %q: want one, the root of the tree: run go generate ./internal/wire", args)
	}
	files, err := gen.Files(args[0])
	if err != nil {
		return err
	}
	for name, content := range files {
		if err := write(filepath.Join(args[0], filepath.FromSlash(name)), content); err != nil {
			return err
		}
	}
	for name, content := range gen.Golden() {
		path := filepath.Join(args[0], filepath.FromSlash(name))
		if _, err := os.Stat(path); err == nil {
			continue // published: it never changes
		}
		if err := write(path, content); err != nil {
			return err
		}
	}
	return nil
}

func write(path string, content []byte) error {
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		return err
	}
	return os.WriteFile(path, content, 0o644)
}
