package main

import (
	"context"
	"encoding/json"
	"fmt"

	"halfline/internal/judge"
	"halfline/internal/strip"
)

const repPage = `halfline rep [--book FILE] [--out json|trace|svg] [--seed N] [--error N=over-the-top] [--force N] [--bump] [--explain] FILE

Runs one rep of the scene's play from the snap and prints how it went: the gain
(cut at 15 yd), who made the tackle and who was with him, which lane the ball
took, where every hat ended, what happened when, who broke his rule and what it
cost, and in a pass who had whom and who was free. --out trace adds where
everybody was, ten times a second, and the lanes over time; --out svg draws the
rep as a film strip to print or to show. --error lets men break a rule on
purpose, --force makes the ball take a lane, --bump lets the defense line up anew
for the play's motion instead of staying where it is. With --seed the rep has the spread
of real ones; without it everybody is at his stated best. A rep is a lesson, not
a forecast: no strength, no missed tackles, nobody behind.
`

func repCommand(_ context.Context, s stdio, args []string) int {
	t, code := readTrial(s, "rep", repPage, args, (*trialFlags).repFlags, allowsRep)
	if t == nil {
		return code
	}
	errs, err := t.breaks()
	if err != nil {
		return s.fail(exitInput, err)
	}
	track, err := judge.Replay(&t.board, t.scene.Play, judge.RepOptions{Errors: errs, Force: t.force, Seed: t.seed, Spread: t.seeded, Bump: t.bump})
	if err != nil {
		return s.fail(exitInput, fmt.Errorf("%s: %w: change the scene", t.name, err))
	}
	if t.out == "svg" {
		eyes := strip.Offense
		if t.eyes == "defense" {
			eyes = strip.Defense
		}
		return s.write(strip.Draw(track, &t.board, t.staff.Caution, strip.Options{Columns: t.columns, Eyes: eyes, Notes: t.told()}))
	}
	return s.answer(repAnswer(track, t.out == "trace"), t.explain, explaining{about: "rep", board: &t.board, book: t.staff})
}

// print writes an answer as JSON.
func (s stdio) print(v any) int {
	enc := json.NewEncoder(s.out)
	enc.SetIndent("", " ")
	enc.SetEscapeHTML(false)
	if err := enc.Encode(v); err != nil {
		return s.fail(exitMachine, fmt.Errorf("standard output: %w: free it", err))
	}
	return exitDone
}

// write writes what is no JSON.
func (s stdio) write(b []byte) int {
	if _, err := s.out.Write(b); err != nil {
		return s.fail(exitMachine, fmt.Errorf("standard output: %w: free it", err))
	}
	return exitDone
}
