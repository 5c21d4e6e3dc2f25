package build_test

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"halfline/client/build"
)

const page = `<!doctype html>
<link rel="stylesheet" href="./app.css">
<script type="module" src="./main.tsx"></script>
`

// tree lays a client with one small package in a fresh folder; the given
// files replace or add to it.
func tree(t *testing.T, changes map[string]string) string {
	t.Helper()
	root := t.TempDir()
	files := map[string]string{
		"src/index.html":                    page,
		"src/main.tsx":                      `import { one } from "preact"; document.title = one() + one();`,
		"src/app.css":                       "body { margin: 0px; }\n",
		"node_modules/preact/package.json":  `{"name":"preact","version":"1.0.0","license":"MIT","main":"index.js"}`,
		"node_modules/preact/index.js":      "export const one = () => document.URL + document.cookie;\n",
		"node_modules/preact/LICENSE":       "Terms of one.\n",
		"node_modules/unused/package.json":  `{"name":"unused","version":"1.0.0"}`,
		"node_modules/unused/something.txt": "x",
	}
	for name, content := range changes {
		files[name] = content
	}
	for name, content := range files {
		if content == "" {
			continue
		}
		target := filepath.Join(root, "client", name)
		require.NoError(t, os.MkdirAll(filepath.Dir(target), 0o755))
		require.NoError(t, os.WriteFile(target, []byte(content), 0o644))
	}
	return root
}

func names(files map[string][]byte, pattern string) []string {
	var found []string
	for name := range files {
		if regexp.MustCompile(pattern).MatchString(name) {
			found = append(found, name)
		}
	}
	return found
}

func TestPageRefersToTheHashedFiles(t *testing.T) {
	files, err := build.Build(tree(t, nil))
	require.NoError(t, err)
	script := names(files, `^assets/app-[0-9a-f]{10}\.js$`)
	style := names(files, `^assets/app-[0-9a-f]{10}\.css$`)
	require.Len(t, script, 1)
	require.Len(t, style, 1)
	assert.Contains(t, string(files["index.html"]), `src="/`+script[0]+`"`)
	assert.Contains(t, string(files["index.html"]), `href="/`+style[0]+`"`)
	assert.NotContains(t, string(files["index.html"]), "main.tsx")
}

func TestNameChangesWithTheContentAlone(t *testing.T) {
	before, err := build.Build(tree(t, nil))
	require.NoError(t, err)
	elsewhere, err := build.Build(tree(t, nil))
	require.NoError(t, err)
	assert.Equal(t, before, elsewhere, "another folder gave other bytes")
	after, err := build.Build(tree(t, map[string]string{"src/main.tsx": `import { one } from "preact"; document.title = "b" + one() + one();`}))
	require.NoError(t, err)
	assert.NotEqual(t, names(before, `\.js$`), names(after, `\.js$`))
	assert.Equal(t, names(before, `\.css$`), names(after, `\.css$`))
}

func TestNoticesHoldBundledPackagesOnly(t *testing.T) {
	files, err := build.Build(tree(t, nil))
	require.NoError(t, err)
	assert.Contains(t, string(files["NOTICES.txt"]), "Terms of one.")
	assert.NotContains(t, string(files["NOTICES.txt"]), "unused")
}

func TestStaticFilesAreCopied(t *testing.T) {
	files, err := build.Build(tree(t, map[string]string{"src/static/icons/one.svg": "<svg/>"}))
	require.NoError(t, err)
	assert.Equal(t, "<svg/>", string(files["icons/one.svg"]))
}

func TestBuildRefuses(t *testing.T) {
	for name, c := range map[string]struct {
		changes map[string]string
		want    string
	}{
		"missing packages":       {map[string]string{"node_modules/preact/package.json": ""}, build.InstallCommand},
		"missing sources":        {map[string]string{"src/main.tsx": ""}, "client sources"},
		"a syntax error":         {map[string]string{"src/main.tsx": "\nlet = ;"}, "client/src/main.tsx:2:"},
		"an unknown import":      {map[string]string{"src/main.tsx": `import "./nowhere";`}, "client/src/main.tsx:1:8"},
		"style from the script":  {map[string]string{"src/main.tsx": `import "./app.css";`}, "src/app.css only"},
		"an inline script":       {map[string]string{"src/index.html": page + "<script>go()</script>"}, "client/src/index.html:4: holds an inline script"},
		"an inline style":        {map[string]string{"src/index.html": page + `<p style="color:red">`}, "holds an inline style"},
		"an inline handler":      {map[string]string{"src/index.html": page + `<p onclick="go()">`}, "holds an inline event handler"},
		"no reference to script": {map[string]string{"src/index.html": strings.Replace(page, "./main.tsx", "./other.tsx", 1)}, "./main.tsx"},
		"a package sans licence": {map[string]string{"node_modules/preact/LICENSE": ""}, "without a licence text"},
		"static over built":      {map[string]string{"src/static/index.html": "x"}, "takes the name of a built file"},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := build.Build(tree(t, c.changes))
			assert.ErrorContains(t, err, c.want)
		})
	}
}

func TestWriteRemovesWhatIsNoLongerBuilt(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "dist")
	require.NoError(t, build.Write(dir, map[string][]byte{"assets/a.js": []byte("1"), "index.html": []byte("2")}))
	require.NoError(t, build.Write(dir, map[string][]byte{"assets/b.js": []byte("3"), "index.html": []byte("4")}))
	assert.NoFileExists(t, filepath.Join(dir, "assets", "a.js"))
	kept, err := os.ReadFile(filepath.Join(dir, "index.html"))
	require.NoError(t, err)
	assert.Equal(t, "4", string(kept))
}
