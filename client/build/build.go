package build

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"strings"

	"github.com/evanw/esbuild/pkg/api"
)

// InstallCommand is what brings the client's packages; every error about a
// missing one names it.
const InstallCommand = "npm --prefix client ci"

// Build bundles the client of the repository whose root folder is given. It
// writes nothing: the caller compares or writes the files, whose paths use
// slashes.
func Build(root string) (map[string][]byte, error) {
	client, err := filepath.Abs(filepath.Join(root, "client"))
	if err != nil {
		return nil, fmt.Errorf("client folder: %w", err)
	}
	if _, err := os.Stat(filepath.Join(client, "src", "main.tsx")); err != nil {
		return nil, fmt.Errorf("client sources: %w: give the repository's root folder", err)
	}
	if _, err := os.Stat(filepath.Join(client, "node_modules", "preact", "package.json")); err != nil {
		return nil, fmt.Errorf("client/node_modules: packages are missing: run %s", InstallCommand)
	}

	script, packages, err := bundle(client, "src/main.tsx", ".js")
	if err != nil {
		return nil, err
	}
	style, stylePackages, err := bundle(client, "src/app.css", ".css")
	if err != nil {
		return nil, err
	}
	notices, err := notices(client, append(packages, stylePackages...))
	if err != nil {
		return nil, err
	}

	files := map[string][]byte{"NOTICES.txt": notices}
	if err := copyStatic(filepath.Join(client, "src", "static"), files); err != nil {
		return nil, err
	}
	scriptName := hashedName("app", ".js", script)
	styleName := hashedName("app", ".css", style)
	files[scriptName] = script
	files[styleName] = style

	page, err := os.ReadFile(filepath.Join(client, "src", "index.html"))
	if err != nil {
		return nil, fmt.Errorf("client page: %w", err)
	}
	files["index.html"], err = index(page, scriptName, styleName)
	return files, err
}

// bundle compiles one entry and all it imports into one file, and lists the
// packages from node_modules that went in.
func bundle(client, entry, ext string) ([]byte, []string, error) {
	result := api.Build(options(client, entry))
	if err := failure(result.Errors); err != nil {
		return nil, nil, err
	}
	if err := failure(result.Warnings); err != nil {
		return nil, nil, err
	}
	if len(result.OutputFiles) != 1 || filepath.Ext(result.OutputFiles[0].Path) != ext {
		return nil, nil, fmt.Errorf("client/%s: does not bundle into one %s file: import style sheets from src/app.css only", entry, ext)
	}
	packages, err := bundledPackages(result.Metafile)
	return result.OutputFiles[0].Contents, packages, err
}

// options are the same for the script and the style sheet. ES2020 and Safari
// 15 are the oldest that phones of about 2015 can still be brought up to; newer
// syntax is compiled down to them.
func options(client, entry string) api.BuildOptions {
	return api.BuildOptions{
		AbsWorkingDir:     client,
		EntryPoints:       []string{entry},
		Outdir:            "out",
		Bundle:            true,
		Write:             false,
		Metafile:          true,
		MinifyWhitespace:  true,
		MinifyIdentifiers: true,
		MinifySyntax:      true,
		Format:            api.FormatESModule,
		Platform:          api.PlatformBrowser,
		Target:            api.ES2020,
		Engines:           []api.Engine{{Name: api.EngineSafari, Version: "15"}},
		LegalComments:     api.LegalCommentsNone, // their place is NOTICES.txt
		Charset:           api.CharsetUTF8,
		JSX:               api.JSXAutomatic,
		JSXImportSource:   "preact",
		TsconfigRaw:       "{}", // the type checker's settings must not change the output
		PreserveSymlinks:  true, // a linked node_modules must not change the output either
		LogLevel:          api.LogLevelSilent,
		Loader:            map[string]api.Loader{".svg": api.LoaderText},
	}
}

// failure joins the bundler's messages into one error, each with its place.
func failure(messages []api.Message) error {
	var all []error
	for _, m := range messages {
		where := "client"
		if m.Location != nil {
			where = fmt.Sprintf("client/%s:%d:%d", m.Location.File, m.Location.Line, m.Location.Column+1)
		}
		all = append(all, fmt.Errorf("%s: %s", where, m.Text))
	}
	return errors.Join(all...)
}

// hashedName is the place of a file that never changes under its name. Forty
// bits of the checksum suffice: they need only tell one release from another.
func hashedName(stem, ext string, content []byte) string {
	sum := sha256.Sum256(content)
	return "assets/" + stem + "-" + hex.EncodeToString(sum[:5]) + ext
}

// copyStatic adds the files that are handed out as they are, such as icons.
func copyStatic(dir string, into map[string][]byte) error {
	err := filepath.WalkDir(dir, func(name string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() {
			return err
		}
		rel, err := filepath.Rel(dir, name)
		if err != nil {
			return err
		}
		target := path.Clean(filepath.ToSlash(rel))
		if target == "index.html" || target == "NOTICES.txt" || strings.HasPrefix(target, "assets/") {
			return fmt.Errorf("client/src/static/%s: takes the name of a built file: rename it", target)
		}
		into[target], err = os.ReadFile(name)
		return err
	})
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	return err
}
