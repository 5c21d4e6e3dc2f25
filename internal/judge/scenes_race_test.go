//go:build race

package judge_test

// frozenScenes under the race detector; see scenes_test.go.
const frozenScenes = 5_000
