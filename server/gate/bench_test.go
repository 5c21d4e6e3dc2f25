package gate

import "testing"

// BenchmarkToken is what a hello costs here while 2,000 devices have tokens.
func BenchmarkToken(b *testing.B) {
	d := newDoor(b)
	var token string
	for range 2000 {
		token = d.player()
	}
	for b.Loop() {
		if _, err := d.Token(d.ctx, token); err != nil {
			b.Fatal(err)
		}
	}
}
