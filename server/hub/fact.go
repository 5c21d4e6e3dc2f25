package hub

import (
	"fmt"
	"strconv"

	"halfline/internal/session"
	"halfline/internal/wire"
	"halfline/server/store"
)

// fact is a durable change as it is shown. Whose operation made it is told to
// that device alone: it knows its own again by that, and for anybody else the
// id would be a key to count operations in its name.
type fact struct {
	wire.Fact        // without client and n
	by, n     uint64 // 0: the hub's own
	raw       []byte // the fact, encoded once for all
}

func factOf(r store.Record, c session.Change) fact {
	f := fact{Fact: wire.Fact{Seq: r.Seq, Chain: hex16(r.Chain), Do: r.Kind, Set: c}, by: r.Client, n: r.Counter}
	f.raw = encoded(f.Fact)
	return f
}

// rawFor is the fact as one device gets it.
func (f *fact) rawFor(client uint64) []byte {
	if f.by != client || client == 0 {
		return f.raw
	}
	own := f.Fact
	own.Client, own.N = hex16(f.by), f.n
	return encoded(own)
}

// encoded writes a value of our own types, which cannot fail: they hold neither
// cycles nor numbers that JSON has not.
func encoded(v any) []byte {
	b, err := wire.EncodeBody(v)
	if err != nil {
		panic(fmt.Sprintf("hub: encode %T: %v", v, err))
	}
	return b
}

// pack puts facts into as few parts of frames as the limit allows, for one
// device; client 0 is for all who made none of them.
func pack(facts []fact, client uint64) [][]byte {
	const head = `"facts":[`
	var out [][]byte
	var part []byte
	for i := range facts {
		raw := facts[i].rawFor(client)
		if part != nil && len(part)+len(raw)+len("{],}") > wire.MaxDown {
			out, part = append(out, append(part, ']')), nil
		}
		if part == nil {
			part = append(part, head...)
		} else {
			part = append(part, ',')
		}
		part = append(part, raw...)
	}
	if part != nil {
		out = append(out, append(part, ']'))
	}
	return out
}

// framed makes a frame of parts that are encoded already.
func framed(parts ...[]byte) []byte {
	n := 2
	for _, p := range parts {
		n += len(p) + 1
	}
	b := append(make([]byte, 0, n), '{')
	for i, p := range parts {
		if i > 0 {
			b = append(b, ',')
		}
		b = append(b, p...)
	}
	return append(b, '}')
}

func hex16(v uint64) string { return fmt.Sprintf("%016x", v) }

func parseHex16(s string) (uint64, error) { return strconv.ParseUint(s, 16, 64) }
