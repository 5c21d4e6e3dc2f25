//go:build race

package athlete

// twinScenes under the race detector; see scenes_test.go.
const twinScenes = 1_000
