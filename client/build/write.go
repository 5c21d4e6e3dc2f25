package build

import (
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
)

// Write makes the folder hold exactly the given files: what is not among them
// is removed, since a stale file would be embedded too.
func Write(dir string, files map[string][]byte) error {
	err := filepath.WalkDir(dir, func(name string, entry fs.DirEntry, err error) error {
		if os.IsNotExist(err) {
			return nil
		}
		if err != nil || entry.IsDir() {
			return err
		}
		rel, err := filepath.Rel(dir, name)
		if err != nil {
			return err
		}
		if _, wanted := files[filepath.ToSlash(rel)]; wanted {
			return nil
		}
		return os.Remove(name)
	})
	if err != nil {
		return fmt.Errorf("clear %s: %w", dir, err)
	}
	for name, content := range files {
		target := filepath.Join(dir, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(target), 0o755); err != nil {
			return fmt.Errorf("write %s: %w", target, err)
		}
		if err := os.WriteFile(target, content, 0o644); err != nil {
			return fmt.Errorf("write %s: %w", target, err)
		}
	}
	return nil
}
