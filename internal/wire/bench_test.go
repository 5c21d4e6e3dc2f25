package wire_test

import (
	"testing"

	"halfline/internal/session"
	"halfline/internal/wire"
)

// BenchmarkEncodeMove writes the frame of a drag that goes to every phone, into
// room that is used again, as the hub's outboxes do.
func BenchmarkEncodeMove(b *testing.B) {
	d := wire.Down{Drags: []wire.Drag{{Who: "H", At: session.Place{312, -36}, By: "m1"}}}
	room := make([]byte, 0, 1024)
	b.ReportAllocs()
	for b.Loop() {
		out, err := wire.AppendDown(room[:0], d)
		if err != nil {
			b.Fatal(err)
		}
		room = out
	}
	b.ReportMetric(float64(len(room)), "wire-B")
}

// BenchmarkDecodeDrag reads the frame of a device that drags.
func BenchmarkDecodeDrag(b *testing.B) {
	frame := []byte(`{"drag":{"who":"H","at":[312,-36]}}`)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := wire.DecodeUp(frame); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(len(frame)), "wire-B")
}
