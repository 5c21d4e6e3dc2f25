package build

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
)

// bundledPackages reads from the bundler's own account which packages of
// node_modules are inside its output.
func bundledPackages(metafile string) ([]string, error) {
	var meta struct {
		Outputs map[string]struct {
			Inputs map[string]struct{} `json:"inputs"`
		} `json:"outputs"`
	}
	if err := json.Unmarshal([]byte(metafile), &meta); err != nil {
		return nil, fmt.Errorf("bundler's account of its inputs: %w", err)
	}
	var packages []string
	for _, output := range meta.Outputs {
		for input := range output.Inputs {
			if name, ok := packageName(input); ok && !slices.Contains(packages, name) {
				packages = append(packages, name)
			}
		}
	}
	slices.Sort(packages)
	return packages, nil
}

// packageName is the package that a bundled file belongs to: one path element
// below node_modules, or two where the first is a scope.
func packageName(input string) (string, bool) {
	_, rest, ok := strings.Cut(input, "node_modules/")
	if !ok {
		return "", false
	}
	parts := strings.Split(rest, "/")
	if strings.HasPrefix(parts[0], "@") && len(parts) > 1 {
		return parts[0] + "/" + parts[1], true
	}
	return parts[0], true
}

// notices gathers the licence text of every bundled package. The licences ask
// that their text goes where the code goes; a package without one is refused.
func notices(client string, packages []string) ([]byte, error) {
	slices.Sort(packages)
	var out bytes.Buffer
	out.WriteString("The script of this web client contains the packages below, under these terms.\n")
	for _, name := range slices.Compact(packages) {
		dir := filepath.Join(client, "node_modules", filepath.FromSlash(name))
		var manifest struct{ Version, License string }
		raw, err := os.ReadFile(filepath.Join(dir, "package.json"))
		if err != nil {
			return nil, fmt.Errorf("package %s: %w", name, err)
		}
		if err := json.Unmarshal(raw, &manifest); err != nil {
			return nil, fmt.Errorf("package %s: %w", name, err)
		}
		text, err := os.ReadFile(filepath.Join(dir, "LICENSE"))
		if err != nil {
			return nil, fmt.Errorf("package %s: is bundled without a licence text: %w", name, err)
		}
		fmt.Fprintf(&out, "\n---- %s %s (%s)\n\n%s\n", name, manifest.Version, manifest.License,
			strings.TrimSpace(strings.ReplaceAll(string(text), "\r\n", "\n")))
	}
	return out.Bytes(), nil
}
