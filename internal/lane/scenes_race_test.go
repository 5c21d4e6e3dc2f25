//go:build race

package lane_test

// Moments under the race detector; see scenes_test.go.
const (
	twinScenes = 9_000
	gainScenes = 1_000
)
