package store

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestIDsThatAreNoKeysAreRefused(t *testing.T) {
	for _, id := range []string{"a", "S-1_2.x", strings.Repeat("z", MaxID)} {
		assert.NoError(t, CheckID(id), id)
	}
	for _, id := range []string{"", "a b", "a}b", "{", "a/b", "ä", "a\x00", "a:b", strings.Repeat("z", MaxID+1)} {
		assert.ErrorIs(t, CheckID(id), ErrInvalid, "%q", id)
	}
}

func TestItemsOutOfBoundsAreRefused(t *testing.T) {
	assert.NoError(t, CheckItem("", "k", make([]byte, MaxItem)))
	assert.NoError(t, CheckItem("s", strings.Repeat("k", MaxItemKey), nil))
	assert.ErrorIs(t, CheckItem("", "", nil), ErrInvalid)
	assert.ErrorIs(t, CheckItem("no such id", "k", nil), ErrInvalid)
	assert.ErrorIs(t, CheckItem("", strings.Repeat("k", MaxItemKey+1), nil), ErrInvalid)
	assert.ErrorIs(t, CheckItem("", "k", make([]byte, MaxItem+1)), ErrInvalid)
}

func TestD3BatchMustHangTogether(t *testing.T) {
	edit := func(change func([]Record) []Record) error {
		recs := sample(5)
		return CheckBatch(1, change(recs))
	}
	assert.NoError(t, edit(func(r []Record) []Record { return r }))
	assert.NoError(t, edit(func(r []Record) []Record { return nil }))
	assert.NoError(t, edit(func(r []Record) []Record { return r[2:] }), "the link to the log is not its business")

	stale := map[string]func([]Record) []Record{
		"gap":           func(r []Record) []Record { return append(r[:1], r[2:]...) },
		"repeat":        func(r []Record) []Record { return append(r, r[4]) },
		"other fence":   func(r []Record) []Record { r[3].Fence = 2; return r },
		"other data":    func(r []Record) []Record { r[3].Data = []byte("?"); return r },
		"other client":  func(r []Record) []Record { r[3].Client++; return r },
		"other counter": func(r []Record) []Record { r[3].Counter++; return r },
		"other kind":    func(r []Record) []Record { r[3].Kind += "?"; return r },
		"other chain":   func(r []Record) []Record { r[3].Chain++; return r },
	}
	for name, change := range stale {
		assert.ErrorIs(t, edit(change), ErrStale, name)
	}

	invalid := map[string]func([]Record) []Record{
		"seq 0":     func(r []Record) []Record { r[0].Seq = 0; return r },
		"long kind": func(r []Record) []Record { r[4].Kind = strings.Repeat("k", MaxKind+1); return r },
		"long data": func(r []Record) []Record { r[4].Data = make([]byte, MaxData+1); return r },
		"too large": func(r []Record) []Record { return sized(1+MaxBatchBytes/MaxData, MaxData) },
		"too many":  func(r []Record) []Record { return make([]Record, MaxBatch+1) },
	}
	for name, change := range invalid {
		assert.ErrorIs(t, edit(change), ErrInvalid, name)
	}
}

func TestI2TailMustRunOn(t *testing.T) {
	recs := sample(9)
	assert.NoError(t, CheckTail(0, 0, recs))
	assert.NoError(t, CheckTail(4, recs[3].Chain, recs[4:]))
	assert.NoError(t, CheckTail(4, 1, nil))
	assert.ErrorIs(t, CheckTail(0, 0, recs[1:]), ErrDamaged)
	assert.ErrorIs(t, CheckTail(0, 1, recs), ErrDamaged)
	assert.ErrorIs(t, CheckTail(4, recs[4].Chain, recs[4:]), ErrDamaged)
	recs[7].Data = nil
	assert.ErrorIs(t, CheckTail(0, 0, recs), ErrDamaged)
}

// sized is n records that follow one another, each with the same size of data.
func sized(n, size int) []Record {
	recs := make([]Record, n)
	data := make([]byte, size)
	var chain uint64
	for i := range recs {
		recs[i] = Record{Seq: uint64(i + 1), Fence: 1, Data: data}
		recs[i].Chain = NextChain(chain, recs[i])
		chain = recs[i].Chain
	}
	return recs
}
