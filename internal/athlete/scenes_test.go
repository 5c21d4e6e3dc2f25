//go:build !race

package athlete

// twinScenes is how many scenes an athlete's slow twin is asked: with the ten of
// twinAthletes more than 100,000. The race detector makes them ten times slower
// and finds nothing in them, so under -race there are fewer (scenes_race_test.go);
// the full count is what plain go test runs.
const twinScenes = 10_200
