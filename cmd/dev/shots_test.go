package main

import (
	"context"
	"image"
	_ "image/png"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"halfline/internal/rehearse/browser"
)

// standIn reads the module of a small server that takes the product's flags.
func standIn(t *testing.T) *shop {
	t.Helper()
	text, err := os.ReadFile("testdata/server_example.txt")
	require.NoError(t, err)
	return module(t, map[string]string{"cmd/halfline/main.go": string(text)})
}

func TestShotsTakeEverySizeInBothThemes(t *testing.T) {
	s := standIn(t)
	dir := t.TempDir()
	list := []shot{{view: "board", state: "empty", sizes: []string{"phone", "laptop"},
		stage: func(st *studio, device browser.View) *browser.Page {
			p := st.page(device)
			p.Goto(st.product.origin)
			p.WaitText("the board")
			return p
		}}}
	require.NoError(t, s.takeAll(context.Background(), dir, list))
	for name, want := range map[string]image.Point{
		"board-empty-phone-light.png":  {X: 3 * 390, Y: 3 * 844},
		"board-empty-phone-dark.png":   {X: 3 * 390, Y: 3 * 844},
		"board-empty-laptop-light.png": {X: 1366, Y: 768},
		"board-empty-laptop-dark.png":  {X: 1366, Y: 768},
	} {
		file, err := os.Open(filepath.Join(dir, name))
		require.NoError(t, err)
		picture, _, err := image.Decode(file)
		require.NoError(t, file.Close())
		require.NoError(t, err)
		assert.Equal(t, want, picture.Bounds().Size(), name)
		bright, _, _, _ := picture.At(picture.Bounds().Dx()-2, picture.Bounds().Dy()-2).RGBA()
		assert.Equal(t, name == "board-empty-phone-light.png" || name == "board-empty-laptop-light.png", bright > 0x8000, name)
	}
	files, err := os.ReadDir(dir)
	require.NoError(t, err)
	assert.Len(t, files, 4)
}

func TestShotThatFailsNamesItsPicture(t *testing.T) {
	s := standIn(t)
	list := []shot{{view: "board", state: "broken", sizes: []string{"phone"},
		stage: func(st *studio, device browser.View) *browser.Page {
			p := st.page(device)
			p.Goto(st.product.origin)
			p.Key("Nowhere")
			return p
		}}}
	err := s.takeAll(context.Background(), t.TempDir(), list)
	assert.Equal(t, exitNo, exitCode(err))
	assert.ErrorContains(t, err, "board-broken-phone")
	assert.ErrorContains(t, err, "no such key")
}

func TestServerThatDoesNotStartIsShown(t *testing.T) {
	s := module(t, map[string]string{"cmd/halfline/main.go": "package main\n\nfunc main() { panic(\"no disk\") }\n"})
	err := s.takeAll(context.Background(), t.TempDir(), []shot{{view: "a", state: "b"}})
	assert.Equal(t, exitMachine, exitCode(err))
	assert.ErrorContains(t, err, "ended before it was ready")
	assert.Contains(t, s.printed(), "no disk")
}

func TestShotsAreChosenByTheirNames(t *testing.T) {
	list := []shot{{view: "coach", state: "start"}, {view: "coach", state: "keys"}, {view: "wall", state: "live"}}
	assert.Equal(t, list, chosen(list, nil))
	assert.Len(t, chosen(list, []string{"coach"}), 2)
	assert.Len(t, chosen(list, []string{"coach-k", "wall-live"}), 2)
	assert.Empty(t, chosen(list, []string{"live"}))
}

// The names of the files are how a reader finds a picture again.
func TestListedShotsHaveNamesOfTheirOwn(t *testing.T) {
	known := map[string]bool{}
	for _, sz := range sizes {
		known[sz.name] = true
	}
	names := map[string]bool{}
	for _, sh := range shots {
		name := sh.view + "-" + sh.state
		assert.False(t, names[name], name)
		assert.NotNil(t, sh.stage, name)
		assert.NotEmpty(t, sh.sizes, name)
		for _, size := range sh.sizes {
			assert.True(t, known[size], "%s: %s", name, size)
		}
		names[name] = true
	}
}
