package main

// formula tells how a number of an answer comes about. Path is where it stands:
// * is any name; @ and a word after it want a race of that kind. Needs are keys
// of the table of assumptions: {who}, {by} and {play} are the man, the man
// his him and the play of that place, and * takes all that begin so.
type formula struct {
	path, words string
	needs       []string
	once        bool // told once for all places alike
}

var (
	mine   = []string{"athlete.{who}.top", "athlete.{who}.tau", "athlete.{who}.react"}
	his    = []string{"athlete.{by}.top", "athlete.{by}.tau", "athlete.{by}.react"}
	metBy  = []string{"athlete.*", "athletes.carry", "model.tackle", "model.ball_reaction", "model.hold", "model.let_go", "model.cut", "lane.*"}
	played = []string{"athlete.*", "athletes.carry", "play.*", "key.*", "model.*", "lane.*", "rep.falls_on", "rep.contact"}
	drawn  = []string{"spread.*"}
)

func join(lists ...[]string) []string {
	var out []string
	for _, l := range lists {
		out = append(out, l...)
	}
	return out
}

var form = formula{path: "scene", words: "version of the form, nothing measured"}

// checkFormulas are those of `check`, depth's and the rest below.
var checkFormulas = []formula{
	form,
	{path: "look.motion.start_s", words: "way of the motion over its speed, and a second more if he is set again"},
	{path: "look.motion.set_s", words: "one second before the snap, as the rule books ask"},
	{path: "look.motion.velocity", words: "his pace at the snap, along the way he goes"},
	{path: "look.motion.renumber.*.t_s", words: "when his way crosses another receiver's place"},
	{path: "look.motion.bumps.*.t_s", words: "the first renumbering after which he no longer stands right"},
	{path: "look.motion.bumps.*.move", words: "from where he stands to the place his rule likes best with the new numbers"},
	{path: "defenders.*.rule.move", words: "the shortest way from where he stands into the place his rule allows, x to the offense's right and y deeper"},
	{path: "defenders.*.rule.box", words: "edges of the place his rule allows, in inches: the call's landmarks and depths laid over this look"},
	{path: "defenders.*.leverage.margin_s@hat", words: "the blocker's time to seal him, his hands set, less his own time to hold the leverage point; shown up to the cap",
		needs: join(mine, his, []string{"key.{who}.{play}", "play.{play}.leaves", "model.set", "model.stalk_set", "model.cap", "race.half_man", "race.meet_share"})},
	{path: "defenders.*.leverage.margin_s@alley", words: "the ball's time to the mouth of his lane less his own time to the fit; the least over the mouths; shown up to the cap",
		needs: join(mine, his, []string{"athletes.carry", "key.{who}.{play}", "play.{play}.*", "model.gain_limit", "model.cap", "race.mouth_in", "race.mouth_depth", "race.inside_ball", "race.fit_reach"})},
	{path: "defenders.*.leverage.margin_s@edge", words: "the ball's time to turn the corner outside of him less his own time to be there in front of it; shown up to the cap",
		needs: join(mine, his, []string{"athletes.carry", "key.{who}.{play}", "play.{play}.*", "model.cap", "race.edge_out", "race.edge_ball", "race.edge_front", "race.edge_reach"})},
	{path: "defenders.*.leverage.margin_s@top", words: "throw and flight of the ball less his own time to where he must be; the least over the throws; shown up to the cap",
		needs: join(mine, his, []string{"play.{play}.*", "model.cap", "race.over_by", "race.over_reach", "race.phase_reach", "race.throw_every", "race.flight_share"})},
	{path: "defenders.*.leverage.margin_yd", words: "the margin in seconds times his top speed", needs: []string{"athlete.{who}.top"}},
	{path: "defenders.*.fix.move", words: "the shortest move, in inches, that brings rule and race back; its searched steps are half a yard", needs: []string{"model.band"}},
	{path: "lanes.*.n", words: "counted from the edge of the box outwards"},
	{path: "lanes.*.span", words: "its inner and outer edge in inches from the ball: box edge, blockers, sideline"},
	{path: "lanes.*.gain_yd", words: "how deep the first man who can get there meets a carrier who takes it by its best way; hats and velocities of this moment", needs: metBy},
	{path: "faults.*.opens", words: "the lane that his hat, lane or edge should shut or fit", needs: []string{"lane.half_man"}},
	{path: "faults.*.cost_yd", words: "gain of the lane it opens less gain of the best lane without it, not below 0", needs: metBy},
	{path: "runner.lane", words: "of the open lanes the one with the most gain; if none is open, of those that no hat shuts", needs: []string{"model.gain_limit"}},
	{path: "runner.gain_yd", words: "gain of that lane", needs: metBy},
	{path: "runner.lost.*.lane", words: "the lane that the hat of the man on this block shuts", needs: []string{"lane.half_man"}},
}

var depthFormulas = []formula{
	{path: "from", words: "nearest depth, in steps of a tenth, from which he keeps every race of the menu with the band to spare", needs: join(mine, []string{"model.band", "depth.least", "model.gain_limit", "race.*"})},
	{path: "to", words: "deepest such depth", needs: join(mine, []string{"model.band", "depth.most", "model.gain_limit", "race.*"})},
	{path: "athlete.top", words: "stated", needs: []string{"athlete.{who}.top", "athletes.game_share"}},
	{path: "athlete.tau", words: "stated", needs: []string{"athlete.{who}.tau"}},
	{path: "athlete.react", words: "stated", needs: []string{"athlete.{who}.react"}},
}

var repFormulas = []formula{
	{path: "gain_yd", words: "where the carrier is tackled and falls forward, or steps out, beyond the line; cut", needs: played},
	{path: "lane", words: "the lane he took: the most gain as he sees it; -1 if he took none", needs: played},
	{path: "time_s", words: "seconds after the snap when it ended, in steps of a sixtieth", needs: played},
	{path: "events.*.t_s", words: "when it happened, in steps of a sixtieth", needs: join(played, []string{"rep.off_by"}), once: true},
	{path: "events.*.lane", words: "the lane with the most gain as the carrier saw it then", needs: metBy, once: true},
	{path: "faults.*.opens", words: "the lane it opened when the carrier took his", needs: []string{"lane.half_man"}},
	{path: "faults.*.cost_yd", words: "of one asked for: the gain less that of the same rep played right; else gain of the lane it opens less that of the best other; not below 0", needs: played},
	{path: "faults.*.t_s", words: "when the rule was broken, or found broken as the carrier took his lane", needs: []string{"rep.off_by", "rep.late_by"}},
	{path: "owners.*.t_s", words: "when a release had shown", needs: []string{"play.*", "model.match_line"}, once: true},
	{path: "free.*.thrown_s", words: "of the throws of the play's window the one that beats everybody by most", needs: []string{"play.*", "race.throw_every"}},
	{path: "free.*.margin_s", words: "the nearest defender's time to the ball's place less its flight", needs: []string{"athlete.*", "race.flight_share", "rep.free_by", "rep.plays_ball", "rep.sees_throw"}},
	{path: "lanes.*.t_s", words: "from when on these lanes held, five times a second", once: true},
	{path: "lanes.*.takes", words: "the lane he is on his way to", once: true},
	{path: "lanes.*.lanes.*.n", words: "counted from the edge of the box outwards", once: true},
	{path: "lanes.*.lanes.*.span", words: "its edges in inches from the ball", once: true},
	{path: "lanes.*.lanes.*.gain_yd", words: "how deep the first man meets a carrier who takes it, everybody moving as he does then", needs: metBy, once: true},
	{path: "trace.*.t", words: "ten times a second, and the end", once: true},
	{path: "trace.*.ball", words: "from the snapper to the passer, in the air, with the carrier", needs: []string{"play.*"}, once: true},
	{path: "trace.*.men.*", words: "each by the movement model, best effort to where his rule or his play sends him", needs: played, once: true},
}

var costFormulas = []formula{
	{path: "reps", words: "asked for with --reps"},
	{path: "seed", words: "asked for with --seed; rep k has seed + k, right and wrong"},
	{path: "*.p10", words: "a tenth of the reps gained less", needs: join(played, drawn)},
	{path: "*.median", words: "half of the reps gained less", needs: join(played, drawn)},
	{path: "*.p90", words: "nine tenths of the reps gained less", needs: join(played, drawn)},
	{path: "*.broke", words: "share of the reps that gained so much or more", needs: join(played, drawn, []string{"rep.broke"})},
	{path: "*.tackles.*", words: "reps in which he made the tackle", needs: join(played, drawn), once: true},
	{path: "*.any_free", words: "share of the reps in which somebody could be thrown to", needs: join(drawn, []string{"rep.free_by"})},
	{path: "*.free.*.share", words: "share of the reps in which he was free", needs: join(drawn, []string{"rep.free_by"})},
	{path: "*.free.*.margin_s", words: "median over the reps of the best ball's margin", needs: join(drawn, []string{"athlete.*", "race.flight_share", "rep.plays_ball", "rep.sees_throw"})},
	{path: "wrong.*.cost_yd", words: "median with the error less median right, on the same seeds", needs: drawn},
	{path: "wrong.*.cost_broke", words: "share that broke with the error less share right", needs: []string{"rep.broke"}},
	{path: "wrong.*.cost_free", words: "share with somebody free with the error less share right", needs: []string{"rep.free_by"}},
	{path: "wrong.*.saved", words: "share of the reps in which that man tackled within the limit", needs: []string{"model.gain_limit"}},
	{path: "wrong.*.himself", words: "share in which the man at fault did so himself", needs: []string{"model.gain_limit"}},
	{path: "settings.athletes.*.*", words: "stated", needs: []string{"athlete.*"}, once: true},
	{path: "settings.carry", words: "stated", needs: []string{"athletes.carry", "athletes.game_share", "athletes.ball_share"}},
	{path: "settings.model.*", words: "stated", needs: []string{"model.*"}, once: true},
	{path: "settings.spread.*", words: "stated: one standard deviation of a normal spread", needs: drawn, once: true},
}
