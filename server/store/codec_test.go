package store

import (
	"bytes"
	"encoding/hex"
	"hash/crc32"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// sample is a log of n records that follow one another, with kinds and data of
// growing length and every byte value in them.
func sample(n int) []Record {
	recs := make([]Record, n)
	var chain uint64
	for i := range recs {
		data := make([]byte, i%61)
		for j := range data {
			data[j] = byte(i*7 + j*31)
		}
		recs[i] = Record{
			Seq: uint64(i + 1), Fence: uint64(1 + i/50), Client: uint64(i) * 0x9e3779b97f4a7c15,
			Counter: uint64(i / 3), Kind: strings.Repeat("k", i%17), Data: data,
		}
		recs[i].Chain = NextChain(chain, recs[i])
		chain = recs[i].Chain
	}
	return recs
}

// The polynomial is the Castagnoli one: RFC 3720 (iSCSI), B.4, gives the CRC of
// 32 zero bytes as aa 36 91 8a on the wire, least significant byte first.
func TestD3ChecksumIsCRC32C(t *testing.T) {
	assert.Equal(t, uint32(0x8a9136aa), crc32.Checksum(make([]byte, 32), castagnoli))
}

// The hash under the chain is 64-bit FNV-1a: draft-eastlake-fnv gives
// its basis, its prime and the value of "foobar". NextChain frames what it
// hashes, so it is compared with the plain definition over the same frame.
func TestD3ChainIsFNV1a(t *testing.T) {
	const basis, prime = uint64(0xcbf29ce484222325), uint64(0x100000001b3)
	plain := func(b []byte) uint64 {
		h := basis
		for _, c := range b {
			h = (h ^ uint64(c)) * prime
		}
		return h
	}
	require.Equal(t, uint64(0x85944171f73967e8), plain([]byte("foobar")), "the plain definition itself")

	r := Record{Seq: 2, Fence: 99, Client: 3, Counter: 4, Kind: "move", Data: []byte("xy")}
	frame, err := hex.DecodeString("0000000000000001" + "0000000000000002" + "0000000000000003" +
		"0000000000000004" + "0000000000000004" + hex.EncodeToString([]byte("movexy")))
	require.NoError(t, err)
	assert.Equal(t, plain(frame), NextChain(1, r))

	r.Fence = 100
	assert.Equal(t, plain(frame), NextChain(1, r), "the fence is no part of the history")
}

func TestD3RecordRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := Record{
			Seq: rapid.Uint64().Draw(t, "seq"), Fence: rapid.Uint64().Draw(t, "fence"),
			Client: rapid.Uint64().Draw(t, "client"), Counter: rapid.Uint64().Draw(t, "counter"),
			Chain: rapid.Uint64().Draw(t, "chain"),
			Kind:  rapid.StringN(0, 60, MaxKind).Draw(t, "kind"),
			Data:  rapid.SliceOfN(rapid.Byte(), 0, 300).Draw(t, "data"),
		}
		b := EncodeRecord(r)
		got, err := DecodeRecord(b)
		require.NoError(t, err)
		if len(r.Data) == 0 {
			r.Data = nil
		}
		require.Equal(t, r, got)

		for i := range b {
			b[i] = 0xff
		}
		require.Equal(t, r, got, "the record shares no memory with its stored form")
	})
}

func TestD3SnapshotRoundTrip(t *testing.T) {
	s := Snapshot{Seq: 1 << 60, Chain: 7, Data: bytes.Repeat([]byte{0, 1, 255}, 1000)}
	got, err := DecodeSnapshot(EncodeSnapshot(s))
	require.NoError(t, err)
	assert.Equal(t, s, got)
}

// Every prefix, every flipped bit and every byte too many of a 200-record log
// is refused.
func TestI2DamagedRecordIsRefused(t *testing.T) {
	for _, r := range sample(200) {
		refusesDamage(t, EncodeRecord(r), func(b []byte) error { _, err := DecodeRecord(b); return err })
	}
}

func TestI2DamagedSnapshotIsRefused(t *testing.T) {
	for _, data := range []string{"", "x", strings.Repeat("snap", 40)} {
		b := EncodeSnapshot(Snapshot{Seq: 9, Chain: 1 << 63, Data: []byte(data)})
		refusesDamage(t, b, func(b []byte) error { _, err := DecodeSnapshot(b); return err })
	}
}

func refusesDamage(t *testing.T, good []byte, decode func([]byte) error) {
	t.Helper()
	require.NoError(t, decode(good))
	for n := range good {
		if err := decode(good[:n:n]); !assert.ErrorIs(t, err, ErrDamaged, "prefix of %d", n) {
			return
		}
	}
	for bit := range len(good) * 8 {
		bad := bytes.Clone(good)
		bad[bit/8] ^= 1 << (bit % 8)
		if err := decode(bad); !assert.ErrorIs(t, err, ErrDamaged, "bit %d", bit) {
			return
		}
	}
	assert.ErrorIs(t, decode(append(bytes.Clone(good), 0)), ErrDamaged, "a byte too many")
}

func FuzzDecodeRecord(f *testing.F) {
	for _, r := range sample(20) {
		f.Add(EncodeRecord(r))
	}
	f.Fuzz(func(t *testing.T, b []byte) {
		r, err := DecodeRecord(b)
		if err != nil {
			require.ErrorIs(t, err, ErrDamaged)
			return
		}
		require.Equal(t, b, EncodeRecord(r), "what is taken is exactly what would be written")
	})
}
