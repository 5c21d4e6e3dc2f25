//go:build !race

package lane_test

// How many moments the twins judge. The race detector makes them ten times
// slower and finds nothing in them, so under -race there are fewer
// (scenes_race_test.go); the full counts are what plain go test runs.
const (
	twinScenes = 102_000
	gainScenes = 20_000
)
