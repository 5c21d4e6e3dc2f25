package handout

import (
	"fmt"
	"strings"

	"halfline/internal/field"
	"halfline/internal/judge"
	"halfline/internal/play"
	"halfline/internal/strip"
)

// Scout is the scout team's card: one play of a board as the offense sees it, how
// far out everybody stands, and who blocks whom. The error says why the look cannot
// run the play.
func Scout(b *judge.Board, pl *play.Play, lookName, caution string) ([]byte, error) {
	t, err := judge.Replay(b, pl, judge.RepOptions{Force: -1})
	if err != nil {
		return nil, err
	}
	_, pic, labels, _ := judge.Picture(b, pl)
	r := judge.Run(b)
	carrier := ""
	if pl.Kind != play.Pass {
		carrier = b.Men[pic.Carrier].Tag
	}
	jobs := map[string]string{}
	var meets []strip.Meets
	for i := range pic.Blocks {
		bl := &pic.Blocks[i]
		by, on := b.Men[bl.By].Tag, labels[bl.On]
		jobs[by] = hows[bl.How] + " " + on
		if bl.How == play.Crack {
			jobs[by] += ", hands first, in front"
		}
		meets = append(meets, strip.Meets{By: by, On: on})
	}
	name := fmt.Sprintf("%s to the %s", pl.Name, b.Side)
	p := begin("Scout card: " + name)
	p.sheet(name, lookName+". "+spot(b.Ball))
	p.add(strip.Figure(b, &r, name+", seen by the offense: "+told(b, jobs, carrier), strip.Signs{Full: true, Play: t, Carrier: carrier, Blocks: meets}))
	p.add(`<div class="duo"><div><h2>Stand, from the ball</h2><table>`)
	for _, m := range order(b) {
		p.add(`<tr><th>`, esc(m.Tag), `</th><td>`, esc(split(m)), `</td></tr>`)
	}
	p.add(`</table></div><div><h2>Do</h2><table>`)
	if m := pl.Motion; m != nil && pic.Moved >= 0 {
		p.add(`<tr><th>`, esc(b.Men[pic.Moved].Tag), `</th><td>goes in motion first: `, esc(m.Kind), `</td></tr>`)
	}
	if carrier != "" {
		p.add(`<tr><th>`, esc(carrier), `</th><td>has the ball</td></tr>`)
	}
	for i := range pic.Routes {
		p.add(`<tr><th>`, esc(b.Men[pic.Routes[i].By].Tag), `</th><td>runs his way as drawn</td></tr>`)
	}
	for _, m := range order(b) {
		if jobs[m.Tag] != "" {
			p.add(`<tr><th>`, esc(m.Tag), `</th><td>`, esc(jobs[m.Tag]), `</td></tr>`)
		}
	}
	p.add(`</table></div></div>`)
	p.foot(caution)
	return p.end(), nil
}

// hows tell a block in a verb.
var hows = map[play.How]string{play.Stalk: "stalks", play.Crack: "cracks", play.Kick: "kicks out", play.Lead: "leads on"}

// told is the card in words, for who cannot see the drawing.
func told(b *judge.Board, jobs map[string]string, carrier string) string {
	var parts []string
	for _, m := range order(b) {
		if j := jobs[m.Tag]; j != "" {
			parts = append(parts, m.Tag+" "+j)
		}
	}
	if carrier != "" {
		parts = append(parts, carrier+" has the ball")
	}
	return strings.Join(parts, "; ")
}

// order gives the offense from the sideline of the play in.
func order(b *judge.Board) []*judge.Man {
	out := make([]*judge.Man, len(b.Men))
	for i := range b.Men {
		out[i] = &b.Men[i]
	}
	outward := func(m *judge.Man) field.Inches { return b.Side.OutInches(m.At.X) }
	for i := range out { // stable, and eleven at most
		for k := i; k > 0 && outward(out[k]) > outward(out[k-1]); k-- {
			out[k], out[k-1] = out[k-1], out[k]
		}
	}
	return out
}

// split tells where a man stands.
func split(m *judge.Man) string {
	where := "on the ball"
	if x := m.At.X; x > 0 {
		where = yards(x) + " right"
	} else if x < 0 {
		where = yards(-x) + " left"
	}
	switch {
	case m.Line:
		return where + ", on the line"
	case m.At.Y < 0:
		return where + ", " + yards(-m.At.Y) + " off"
	}
	return where
}

func yards(v field.Inches) string { return judge.Length(v) }

// spot tells where the ball lies.
func spot(b field.Ball) string {
	hash := "middle"
	if b.Hash != field.MiddleHash {
		hash = string(b.Hash) + " hash"
	}
	switch {
	case b.Yard < 50:
		return fmt.Sprintf("Ball: %s, own %d", hash, b.Yard)
	case b.Yard > 50:
		return fmt.Sprintf("Ball: %s, their %d", hash, 100-b.Yard)
	}
	return "Ball: " + hash + ", midfield"
}
