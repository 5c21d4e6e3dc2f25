package main

import (
	"context"
	"crypto/sha256"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
)

// packagesFolder is installed, not generated, and far too large to copy.
const packagesFolder = "client/node_modules"

// runGen writes all generated files in place and says which changed.
func runGen(ctx context.Context, s *shop, args []string) error {
	if len(args) > 0 {
		return badInput("gen", fmt.Sprintf("takes no argument, got %q", args[0]), "go run ./cmd/dev gen")
	}
	return s.runSteps(ctx, []step{
		{"tools", s.ensureTools},
		{"client packages", s.installClient},
		{"go generate", func(ctx context.Context) error {
			before, err := s.sums(ctx, s.root)
			if err != nil {
				return err
			}
			if err := s.generate(ctx, s.root); err != nil {
				return err
			}
			after, err := s.sums(ctx, s.root)
			if err != nil {
				return err
			}
			for _, name := range differing(before, after) {
				fmt.Fprintf(s.stdout, "     %s changed\n", name)
			}
			return nil
		}},
	})
}

// checkGenerated generates in a copy of the tree and compares, so that a check
// changes nothing under the hands of whoever runs it.
func (s *shop) checkGenerated(ctx context.Context) error {
	scratch, err := os.MkdirTemp("", "halfline-gen-")
	if err != nil {
		return machine("generated files", err, "free the temporary folder")
	}
	defer os.RemoveAll(scratch)
	files, err := s.treeFiles(ctx, s.root)
	if err != nil {
		return err
	}
	for _, name := range files {
		if err := copyFile(filepath.Join(s.root, name), filepath.Join(scratch, name)); err != nil {
			return machine("generated files", err, "free the temporary folder")
		}
	}
	if err := os.Symlink(filepath.Join(s.root, packagesFolder), filepath.Join(scratch, packagesFolder)); err != nil {
		return machine("generated files", err, "use a file system with symbolic links")
	}
	before, err := sumFiles(scratch, files)
	if err != nil {
		return err
	}
	if err := s.generate(ctx, scratch); err != nil {
		return err
	}
	now, err := walkFiles(scratch)
	if err != nil {
		return machine("generated files", err, "free the temporary folder")
	}
	after, err := sumFiles(scratch, now)
	if err != nil {
		return err
	}
	if stale := differing(before, after); len(stale) > 0 {
		return no("generated files", strings.Join(stale, ", ")+" stale", "go run ./cmd/dev gen, and commit")
	}
	return nil
}

func (s *shop) generate(ctx context.Context, root string) error {
	return s.quiet(ctx, "go generate", "mend what a generator complains of", root, "go", "generate", "./...")
}

// treeFiles lists what belongs to the tree: all files that git keeps or would
// keep, and that exist.
func (s *shop) treeFiles(ctx context.Context, root string) ([]string, error) {
	out, err := s.command(ctx, root, "git", "ls-files", "-z", "--cached", "--others", "--exclude-standard").Output()
	if err != nil {
		return nil, machine("git", err, "run inside a clone of the repository")
	}
	var files []string
	for _, name := range strings.Split(strings.TrimRight(string(out), "\x00"), "\x00") {
		if info, err := os.Lstat(filepath.Join(root, name)); err == nil && info.Mode().IsRegular() {
			files = append(files, name)
		}
	}
	return files, nil
}

func (s *shop) sums(ctx context.Context, root string) (map[string][sha256.Size]byte, error) {
	files, err := s.treeFiles(ctx, root)
	if err != nil {
		return nil, err
	}
	return sumFiles(root, files)
}

func sumFiles(root string, files []string) (map[string][sha256.Size]byte, error) {
	sums := make(map[string][sha256.Size]byte, len(files))
	for _, name := range files {
		content, err := os.ReadFile(filepath.Join(root, name))
		if err != nil {
			return nil, machine(name, err, "run it again")
		}
		sums[name] = sha256.Sum256(content)
	}
	return sums, nil
}

// differing lists, in order, what was added, removed or changed.
func differing(before, after map[string][sha256.Size]byte) []string {
	var names []string
	for name, sum := range after {
		if old, ok := before[name]; !ok || old != sum {
			names = append(names, name)
		}
	}
	for name := range maps.Keys(before) {
		if _, ok := after[name]; !ok {
			names = append(names, name)
		}
	}
	slices.Sort(names)
	return names
}

// walkFiles lists a scratch tree; the packages in it are only linked.
func walkFiles(root string) ([]string, error) {
	var files []string
	err := filepath.WalkDir(root, func(name string, entry fs.DirEntry, err error) error {
		if err != nil || !entry.Type().IsRegular() {
			return err
		}
		rel, err := filepath.Rel(root, name)
		files = append(files, filepath.ToSlash(rel))
		return err
	})
	return files, err
}

func copyFile(from, to string) error {
	content, err := os.ReadFile(from)
	if err != nil {
		return err
	}
	if err := os.MkdirAll(filepath.Dir(to), 0o755); err != nil {
		return err
	}
	info, err := os.Stat(from)
	if err != nil {
		return err
	}
	return os.WriteFile(to, content, info.Mode().Perm())
}
