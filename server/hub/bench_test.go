package hub

import (
	"context"
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"

	"halfline/internal/book"
	"halfline/internal/field"
	"halfline/internal/session"
	"halfline/internal/wire"
	"halfline/server/store/storetest"
)

// counter is an outlet that throws frames away.
type counter struct{ frames, bytes int }

func (c *counter) Send(b []byte, _ string) bool {
	c.frames++
	c.bytes += len(b)
	return true
}
func (c *counter) Close(int) {}

// squad is a full room: a coach, a wall and 24 phones, of which as many hold a
// spot as there are spots.
func squad(b *testing.B) (o *owner, coach *Link, outs []*counter) {
	ctx := context.Background()
	h := New(Options{Store: storetest.NewMemory(), Books: book.Shipped})
	b.Cleanup(h.Close)
	id, err := h.Create(ctx, "Tuesday", "herons")
	require.NoError(b, err)
	attach := func(member, role string, wall bool, n int) (*Link, *counter) {
		out := &counter{}
		l, err := h.Attach(ctx, Pass{Session: id, Member: member, Role: role}, wire.Hello{V: wire.Version, Client: hex16(uint64(n) + 1), Wall: wall}, out)
		require.NoError(b, err)
		return l, out
	}
	coach, _ = attach("coach", session.Coach, false, 0)
	_, wall := attach("coach", session.Coach, true, 1)
	outs = append(outs, wall)
	o = coach.o
	free := sortedKeys(o.shown.Spots)
	for i := range 24 {
		member, _, err := h.Join(ctx, id, fmt.Sprint("P", i), fmt.Sprint(i))
		require.NoError(b, err)
		l, out := attach(member, session.Player, false, 2+i)
		outs = append(outs, out)
		if i < len(free) {
			l.Op(wire.OpUp{N: 1, Op: session.Op{Do: "hold", Spot: free[i]}})
		}
	}
	_, err = o.ask(ctx, func(reply func(uint64, error)) { o.whenDurable(func(err error) { reply(0, err) }) })
	require.NoError(b, err)
	return o, coach, outs
}

// BenchmarkFanout25 moves a receiver under a coach's finger for 25 devices:
// validation, judgement, what each may see, encoding.
func BenchmarkFanout25(b *testing.B) {
	o, coach, outs := squad(b)
	b.ReportAllocs()
	b.ResetTimer()
	_, err := o.ask(context.Background(), func(reply func(uint64, error)) {
		for i := range b.N {
			o.drag(coach, wire.Drag{Who: "H", At: session.Place{324 + field.Inches(i%120), -36}})
		}
		reply(0, nil)
	})
	b.StopTimer()
	require.NoError(b, err)
	report(b, outs)
}

func report(b *testing.B, outs []*counter) {
	frames, bytes := 0, 0
	for _, o := range outs {
		frames += o.frames
		bytes += o.bytes
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N*len(outs)), "ns/delivery")
	b.ReportMetric(float64(bytes)/float64(frames), "B/frame")
}

// BenchmarkFanout25Baseline sends one small prepared frame to as many outlets,
// with neither state nor checks.
func BenchmarkFanout25Baseline(b *testing.B) {
	outs := make([]*counter, 25)
	to := make([]Outlet, len(outs))
	for i := range outs {
		outs[i] = &counter{}
		to[i] = outs[i]
	}
	frame := encoded(wire.Down{Drags: []wire.Drag{{Who: "H", At: session.Place{324, -36}, By: "coach"}}})
	b.ReportAllocs()
	for b.Loop() {
		for _, o := range to {
			o.Send(frame, "drag H")
		}
	}
	report(b, outs)
}

// BenchmarkPublish25 makes the place of a receiver a fact for 25 devices, which
// brings those who hold a spot their pockets anew; the store is in memory.
func BenchmarkPublish25(b *testing.B) {
	o, _, outs := squad(b)
	b.ReportAllocs()
	b.ResetTimer()
	for i := range b.N {
		_, err := o.ask(context.Background(), func(reply func(uint64, error)) {
			at := session.Place{324 + field.Inches(i%120), -36}
			c, _ := session.Rest(&o.head, o.book, "H", at)
			o.submit("place", c, 0, 0, reply)
		})
		require.NoError(b, err)
	}
	b.StopTimer()
	report(b, outs)
}
