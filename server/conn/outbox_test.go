package conn

import (
	"slices"
	"testing"
	"testing/synctest"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"halfline/internal/wire"
)

// TestOutboxAgainstModel compares with a plain list.
func TestOutboxAgainstModel(t *testing.T) {
	type waiting struct {
		key  string
		data []byte
	}
	rapid.Check(t, func(r *rapid.T) {
		o := newOutbox()
		var model []waiting
		bytes := func() (n int) {
			for _, w := range model {
				n += len(w.data)
			}
			return n
		}
		code := 0
		r.Repeat(map[string]func(*rapid.T){
			"put": func(r *rapid.T) {
				w := waiting{
					key:  rapid.SampledFrom([]string{"", "", "verdicts", "drag H", "drag Z", "roster"}).Draw(r, "key"),
					data: make([]byte, rapid.SampledFrom([]int{1, 50, 700, wire.MaxDown}).Draw(r, "size")),
				}
				fits := code == 0
				if fits && w.key != "" {
					model = slices.DeleteFunc(model, func(m waiting) bool { return m.key == w.key })
				}
				if fits = fits && bytes()+len(w.data) <= 256<<10; fits {
					model = append(model, w)
				}
				require.Equal(r, fits, o.put(w.data, w.key))
			},
			"next": func(r *rapid.T) {
				data, c, _ := o.next()
				require.Equal(r, code, c)
				if len(model) == 0 {
					require.Nil(r, data)
					return
				}
				require.Same(r, &model[0].data[0], &data[0])
				model = model[1:]
			},
			"close": func(r *rapid.T) {
				c := rapid.SampledFrom([]int{wire.CloseSlow, wire.CloseRestart}).Draw(r, "code")
				if rapid.IntRange(0, 9).Draw(r, "really") > 0 {
					return
				}
				o.close(c, time.Time{})
				if code == 0 {
					if code = c; c == wire.CloseSlow {
						model = nil
					}
				}
			},
			"": func(r *rapid.T) {
				require.Equal(r, bytes(), o.bytes)
				require.LessOrEqual(r, o.bytes, 256<<10)
				require.Len(r, o.queue, len(model))
				require.Equal(r, code != 0, o.closed())
			},
		})
	})
}

// TestNewerTakesThePlaceOfUnsent: a device that lags gets the newest of its
// kind, once, and all that has no kind in order.
func TestNewerTakesThePlaceOfUnsent(t *testing.T) {
	bubble(t, func(t *testing.T) {
		h := &hub{}
		d := welcome(t, h)
		big := pad(`{"acks":[]}`, buffered) // fills the pipe, so that the rest waits
		for _, f := range []struct{ data, key string }{
			{big, ""}, {big, ""}, {string(note(1)), ""}, {string(note(2)), "a"}, {string(note(3)), "b"},
			{string(note(4)), ""}, {string(note(5)), "a"}, {string(note(6)), ""}, {string(note(7)), "a"},
		} {
			require.True(t, h.out.Send([]byte(f.data), f.key))
			synctest.Wait()
		}
		h.out.Close(wire.CloseRestart)
		assert.False(t, h.out.Send(note(8), ""), "closed")
		var got []uint64
		frames, bye, code := d.lastWords()
		for _, f := range frames {
			for _, a := range f.Acks {
				got = append(got, a.N)
			}
		}
		assert.Equal(t, []uint64{1, 3, 4, 6, 7}, got)
		assert.Equal(t, "restart", bye)
		assert.Equal(t, wire.CloseRestart, code)
		d.leave()
	})
}
