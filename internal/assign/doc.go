// Package assign lays a call over a look: where each spot may stand, which
// receiver he keeps on which side, whom he reads; and says whether the place
// where he stands is right by his rule. It decides in whole inches and knows
// nothing of speed or time.
package assign
