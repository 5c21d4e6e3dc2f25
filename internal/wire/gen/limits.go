package gen

import (
	"fmt"

	"halfline/internal/wire"
)

// limit is one row of the table of limits.
type limit struct{ What, Value, Over string }

// limits lists every number a client must know, and what happens past it.
// PROTOCOL.md has the same table; a test compares them.
func limits() []limit {
	bytes := func(n int) string {
		if n%1024 == 0 {
			return fmt.Sprintf("%d KiB", n/1024)
		}
		return fmt.Sprintf("%d bytes", n)
	}
	return []limit{
		{"hello", bytes(wire.MaxFirst), "close 1009"},
		{"hello comes within", wire.HelloWithin.String(), "close 4505"},
		{"any other frame to the hub", bytes(wire.MaxUp), "close 1009"},
		{"frame from the hub", bytes(wire.MaxDown), "never sent"},
		{"nesting of a frame to the hub", fmt.Sprintf("%d levels", wire.MaxDepth), "bad-frame"},
		{"text in a frame to the hub", fmt.Sprintf("%d characters", wire.MaxText), "bad-frame"},
		{"list in a frame to the hub", fmt.Sprintf("%d elements", wire.MaxList), "bad-frame"},
		{"binary frame", "none", "close 1003"},
		{"bytes that are not UTF-8", "none", "close 1007"},
		{"quiet of the hub before a beat", wire.BeatAfter.String(), "a beat comes"},
		{"quiet of the hub before a device gives up", wire.HubQuiet.String(), "connect again"},
		{"quiet of a device before the hub gives up", wire.DeviceQuiet.String(), "close 4003"},
		{"quiet of a drag before the hub ends it", wire.DragQuiet.String(), "the hub places the man"},
		{"operations of a coach", rate(wire.CoachOps, wire.CoachOpsBurst), "slow-down"},
		{"operations of a player", rate(wire.PlayerOps, wire.PlayerOpsBurst), "slow-down"},
		{"drags and points of a coach", fmt.Sprintf("%d a second", wire.CoachHints), "dropped"},
		{"drags and points of a player", fmt.Sprintf("%d a second", wire.PlayerHints), "dropped"},
		{"any of these ten times over for 10 s", "none", "close 1008"},
	}
}

func rate(perSecond, burst int) string {
	return fmt.Sprintf("%d a second, %d at once", perSecond, burst)
}
