package build

import (
	"fmt"
	"path/filepath"
	"slices"

	"github.com/evanw/esbuild/pkg/api"
)

// Tests bundles every client/test/*.test.ts into a module of its own in dir,
// for Node's test runner, and returns their paths. Node itself reads no
// TypeScript with JSX; bundling also keeps the tests on the very compiler that
// makes the product.
func Tests(root, dir string) ([]string, error) {
	client, err := filepath.Abs(filepath.Join(root, "client"))
	if err != nil {
		return nil, fmt.Errorf("client folder: %w", err)
	}
	sources, err := filepath.Glob(filepath.Join(client, "test", "*.test.ts*"))
	if err != nil {
		return nil, fmt.Errorf("client/test: %w", err)
	}
	if len(sources) == 0 {
		return nil, fmt.Errorf("client/test: holds no *.test.ts: a client without tests is not checked")
	}
	result := api.Build(api.BuildOptions{
		AbsWorkingDir:   client,
		EntryPoints:     sources,
		Outdir:          dir,
		OutExtension:    map[string]string{".js": ".mjs"},
		Bundle:          true,
		Write:           true,
		Format:          api.FormatESModule,
		Platform:        api.PlatformNode,
		Target:          api.ES2022,
		Sourcemap:       api.SourceMapInline, // failures name the TypeScript line
		JSX:             api.JSXAutomatic,
		JSXImportSource: "preact",
		TsconfigRaw:     "{}",
		LogLevel:        api.LogLevelSilent,
		Loader:          map[string]api.Loader{".svg": api.LoaderText},
	})
	if err := failure(append(result.Errors, result.Warnings...)); err != nil {
		return nil, err
	}
	var modules []string
	for _, file := range result.OutputFiles {
		if filepath.Ext(file.Path) == ".mjs" {
			modules = append(modules, file.Path)
		}
	}
	slices.Sort(modules)
	return modules, nil
}
