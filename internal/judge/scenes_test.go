//go:build !race

package judge_test

// frozenScenes is how many frozen boards are judged with their mirror images. The
// race detector makes them ten times slower and finds nothing in them, so under
// -race there are fewer (scenes_race_test.go); the full count is what plain go
// test runs.
const frozenScenes = 100_000
