package main

import (
	"encoding/xml"
	"errors"
	"io"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"halfline/internal/book"
)

// The board of a scene as a picture: whole XML that stands alone and tells the same
// answer as the JSON, exit code included.
func TestCheckDraws(t *testing.T) {
	for name, c := range map[string]struct {
		code int
		says []string
	}{
		"three-on-three.scene.yaml":    {exitDone, []string{"keeps leverage", "#1", "#2", "Two-read"}},
		"apex-over-the-top.scene.yaml": {exitNo, []string{"over the top", "0 open", "when the carrier"}},
	} {
		for _, eyes := range []string{"offense", "defense"} {
			got := runCommand(t, "", nil, "check", "--out", "svg", "--eyes", eyes, scene(name))
			require.Empty(t, got.err)
			assert.Equal(t, c.code, got.code, name)
			dec := xml.NewDecoder(strings.NewReader(got.out))
			for {
				if _, err := dec.Token(); errors.Is(err, io.EOF) {
					break
				} else {
					require.NoError(t, err, name)
				}
			}
			for _, say := range append(c.says, "seen with the "+eyes, book.Builtin().Caution) {
				assert.Contains(t, got.out, say, name)
			}
			assert.NotContains(t, got.out, "<script")
		}
	}
}

func TestCheckRefusesPicturesThatAreNone(t *testing.T) {
	for args, want := range map[string]string{
		"--out png":              "want json or svg",
		"--out svg --eyes mine":  "want offense or defense",
		"--out svg --explain":    "no room",
		"--out svg --eyes Right": "want offense or defense",
	} {
		got := runCommand(t, "", nil, append(append([]string{"check"}, strings.Fields(args)...), scene("three-on-three.scene.yaml"))...)
		assert.Equal(t, exitInput, got.code, args)
		assert.Contains(t, got.err, want, args)
		assert.Empty(t, got.out, args)
	}
}
