package book

import (
	"fmt"
	"slices"

	"halfline/internal/call"
	"halfline/internal/play"
)

// usualReleases are the pairs of #1 and #2, and the back, that every call must
// answer. The back is asked for only where there is a linebacker.
var usualReleases = []struct{ one, two, back play.Release }{
	{"vertical", "vertical", ""}, {"vertical", "out", ""}, {"under", "vertical", ""}, {"vertical", "wheel", ""},
	{"vertical", "under", ""}, {"vertical", "vertical", "out"}, {"vertical", "out", "out"},
}

// receivers refuses a call that leaves a receiver to nobody. Each is told once.
func (j *judge) receivers() {
	var told []string
	for _, u := range usualReleases {
		shown := []call.Shown{{Number: 1, Tag: "#1", Release: u.one}, {Number: 2, Tag: "#2", Release: u.two}}
		if u.back != "" && j.holder(play.Hook) != nil {
			shown = append(shown, call.Shown{Tag: "back", Release: u.back})
		}
		var own []call.Own
		for i := range j.c.Spots {
			if s := &j.c.Spots[i]; s.Half == call.This {
				own = append(own, s.Owns(shown, false))
			}
		}
		for _, who := range call.Unowned(own, shown) {
			if slices.Contains(told, who) {
				continue
			}
			told = append(told, who)
			when := fmt.Sprintf("#1 %s and #2 %s", u.one, u.two)
			release, by := u.one, play.Corner
			switch who {
			case "#2":
				release, by = u.two, play.Apex
			case "back":
				release, by = u.back, play.Hook
				when += ", the back " + string(u.back)
			}
			j.fail(fmt.Sprintf("nobody has %s: %s", who, when),
				fmt.Sprintf(`a pass rule that takes him, such as {if: "%s %s", do: his, holds: in-phase}`, who, release),
				j.nodes[j.holder(by).Label]["pass"])
		}
	}
}
