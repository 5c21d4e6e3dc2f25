package client_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"image/png"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestCanBeInstalled holds the manifest to what browsers ask for before they offer
// to install a page (W3C Web App Manifest; Chromium: a name, a start inside of the
// scope, a display of its own, icons of 192 and 512 pixels).
func TestCanBeInstalled(t *testing.T) {
	files := embedded(t)
	require.Contains(t, string(files["index.html"]), `<link rel="manifest" href="manifest.webmanifest">`)
	var m struct {
		Name      string `json:"name"`
		ShortName string `json:"short_name"`
		StartURL  string `json:"start_url"`
		Scope     string `json:"scope"`
		Display   string `json:"display"`
		Icons     []struct{ Src, Sizes, Type, Purpose string }
	}
	require.NoError(t, json.Unmarshal(files["manifest.webmanifest"], &m))
	assert.Equal(t, "Halfline", m.Name)
	assert.LessOrEqual(t, len(m.ShortName), 12)
	assert.True(t, strings.HasPrefix(m.StartURL, m.Scope))
	assert.Equal(t, "standalone", m.Display)
	var sizes []string
	for _, i := range m.Icons {
		content, ok := files[i.Src]
		require.True(t, ok, i.Src)
		if i.Type != "image/png" {
			continue
		}
		c, err := png.DecodeConfig(bytes.NewReader(content))
		require.NoError(t, err, i.Src)
		assert.Equal(t, i.Sizes, fmt.Sprintf("%dx%d", c.Width, c.Height), i.Src)
		sizes = append(sizes, i.Sizes)
	}
	assert.Subset(t, sizes, []string{"192x192", "512x512"})
}
