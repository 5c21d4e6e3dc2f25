package wire_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"halfline/internal/session"
	"halfline/internal/wire"
	"halfline/internal/wire/wiretest"
)

// W25 to W31: a frame of a device is taken on trust in nothing.
func TestBadFramesAreRefused(t *testing.T) {
	long := strings.Repeat("é", wire.MaxText+1)
	deep := strings.Repeat("[", wire.MaxDepth) + strings.Repeat("]", wire.MaxDepth)
	elements := strings.TrimSuffix(strings.Repeat(`{"by":"H","on":"N"},`, wire.MaxList+1), ",")
	var spots []string
	for i := range wire.MaxList + 1 {
		spots = append(spots, fmt.Sprintf(`"s%d":{"at":[1,2],"by":"","man":""}`, i))
	}
	many := strings.Join(spots, ",")
	for name, c := range map[string]struct{ frame, want string }{
		"nothing":                 {``, "not JSON"},
		"not JSON":                {`hello`, "not JSON at byte 0"},
		"cut off":                 {`{"beat":{"t":1`, "beat: not JSON at byte 14"},
		"not an object":           {`[1]`, "want object, not list"},
		"two objects":             {`{"beat":{"t":1}}{"beat":{"t":1}}`, "more than one JSON value"},
		"trash behind":            {`{"beat":{"t":1}} x`, "not JSON at byte 17"},
		"bad UTF-8":               {"{\"point\":{\"who\":\"\xff\"}}", "not UTF-8"},
		"half a surrogate pair":   {`{"point":{"who":"\ud83c"}}`, "point.who: not JSON at byte 17"},
		"no part":                 {`{}`, "0 parts: a frame has exactly one of hello, op, drag, point, beat"},
		"two parts":               {`{"beat":{"t":1},"point":{"who":"N"}}`, "2 parts"},
		"unknown part":            {`{"boat":{"t":1}}`, "boat: no such part: want one of hello"},
		"part of the wrong case":  {`{"Beat":{"t":1}}`, "Beat: no such part"},
		"part twice":              {`{"beat":{"t":1},"beat":{"t":1}}`, "the same key twice"},
		"null part":               {`{"beat":null}`, "beat: want object, not null"},
		"field twice":             {`{"drag":{"who":"H","who":"H","at":[1,2]}}`, "drag.who: the same key twice"},
		"field twice, escaped":    {`{"drag":{"who":"H","\u0077ho":"H","at":[1,2]}}`, "the same key twice"},
		"field of the wrong case": {`{"drag":{"who":"H","At":[1,2]}}`, "drag.At: keys are case-sensitive: write at"},
		"field missing":           {`{"drag":{"who":"H"}}`, "drag: at is missing"},
		"field null":              {`{"drag":{"who":null,"at":[1,2]}}`, "drag.who: want text, not null"},
		"optional field null":     {`{"point":{"who":null}}`, "point.who: want text, not null"},
		"text for a number":       {`{"beat":{"t":"1"}}`, "beat.t: want number, not text"},
		"number for a boolean":    {`{"op":{"n":1,"op":{"do":"hide","on":1}}}`, "op.op.on: want boolean, not number"},
		"object for a list":       {`{"op":{"n":1,"op":{"do":"blocks","blocks":{}}}}`, "op.op.blocks: want list, not object"},
		"a fraction":              {`{"drag":{"who":"H","at":[1.5,2]}}`, "drag.at[0]: want a whole number in plain digits"},
		"a whole number as 1.0":   {`{"drag":{"who":"H","at":[1.0,2]}}`, "drag.at[0]: want a whole number in plain digits"},
		"an exponent":             {`{"beat":{"t":1e3}}`, "beat.t: want a whole number in plain digits"},
		"minus nought":            {`{"drag":{"who":"H","at":[-0,2]}}`, "drag.at[0]: want a whole number in plain digits"},
		"infinity":                {`{"drag":{"who":"H","at":[1e999,2]}}`, "drag.at[0]: want a whole number in plain digits"},
		"NaN":                     {`{"beat":{"t":NaN}}`, "not JSON at byte 13"},
		"beyond the end line":     {`{"drag":{"who":"H","at":[0,4321]}}`, "drag.at[1]: out of range: want -4320 to 4320"},
		"beyond 64 bits":          {`{"beat":{"t":99999999999999999999}}`, "beat.t: out of range"},
		"beyond what scripts hold": {`{"op":{"n":9007199254740992,"op":{"do":"thaw"}}}`,
			"op.n: out of range: want 0 to 9007199254740991"},
		"a negative count":      {`{"op":{"n":-1,"op":{"do":"thaw"}}}`, "op.n: out of range"},
		"a place of one number": {`{"drag":{"who":"H","at":[1]}}`, "drag.at: 1 elements: want exactly 2"},
		"a place of three":      {`{"drag":{"who":"H","at":[1,2,3]}}`, "drag.at: 3 elements: want exactly 2"},
		"a man who is null":     {`{"op":{"n":1,"op":{"do":"board","picture":{"men":{"H":null}}}}}`, "op.op.picture.men.H: want object, not null"},
		"a man without a place": {`{"op":{"n":1,"op":{"do":"board","picture":{"men":{"H":{"line":true}}}}}}`, "op.op.picture.men.H: at is missing"},
		"a man twice": {`{"op":{"n":1,"op":{"do":"board","picture":{"moment":{"places":{"H":[1,2],"H":[1,2]}}}}}}`,
			"op.op.picture.moment.places.H: the same key twice"},
		"a long tag": {`{"op":{"n":1,"op":{"do":"board","picture":{"men":{"` + long + `":{"at":[1,2],"line":true}}}}}}`,
			"a key longer than 200 characters"},
		"too many men": {`{"op":{"n":1,"op":{"do":"board","picture":{"spots":{` + many + `}}}}}`, "op.op.picture.spots.s199: longer than 200"},
		"a long text":  {`{"point":{"who":"` + long + `"}}`, "point.who: longer than 200 characters"},
		"a long list":  {`{"op":{"n":1,"op":{"do":"blocks","blocks":[` + elements + `]}}}`, "op.op.blocks[199]: longer than 200"},
		"deep in what is unknown": {`{"beat":{"t":1,"new":` + deep + `}}`,
			"nested deeper than 8"},
		"long in what is unknown": {`{"beat":{"t":1,"new":["` + long + `"]}}`, "beat.new[0]: longer than 200 characters"},
		"a long list in what is unknown": {`{"beat":{"t":1,"new":[` + strings.Repeat("1,", wire.MaxList) + `1]}}`,
			"beat.new[199]: longer than 200"},
		"a long key":          {`{"beat":{"t":1,"` + long + `":1}}`, "a key longer than 200 characters"},
		"a short client id":   {`{"hello":{"v":1,"token":"t","client":"9a41"}}`, "hello.client: want 16 hex digits 0-9 a-f"},
		"a client id in caps": {`{"hello":{"v":1,"token":"t","client":"9A41C07E55D2F318"}}`, "hello.client: want 16 hex digits 0-9 a-f"},
		"resume without a chain": {`{"hello":{"v":1,"token":"t","client":"9a41c07e55d2f318","resume":{"epoch":"k","have":1}}}`,
			"hello.resume: chain is missing"},
	} {
		t.Run(name, func(t *testing.T) {
			u, err := wire.DecodeUp([]byte(c.frame))
			require.Error(t, err)
			var fe *wire.FrameError
			require.ErrorAs(t, err, &fe)
			assert.Contains(t, err.Error(), c.want)
			assert.Equal(t, wire.Up{}, u, "nothing of a bad frame gets through")
			refused(t, err)
		})
	}
}

// refused proves that what is said back fits into a frame of the hub.
func refused(t wiretest.T, err error) {
	b, encErr := wire.Encode(wire.Down{Refused: []wire.Refused{{Code: wire.CodeBadFrame, Detail: err.Error()}}})
	if encErr != nil {
		t.Errorf("refusal %q cannot be sent: %v", err, encErr)
	}
	wiretest.Validator().Down(t, b)
}

// The reliability rules want no token in any error (I13).
func TestRefusalsQuoteNoValue(t *testing.T) {
	const secret = "5f0c2b7a9d1e4c38"
	for _, frame := range []string{
		`{"hello":{"v":"` + secret + `"}}`,
		`{"hello":{"v":1,"token":"` + secret + `","client":"` + secret + `z"}}`,
		`{"hello":{"v":1,"token":` + secret + `}}`,
		`{"hello":{"v":1,"token":"` + secret + "\xff" + `"}}`,
		`{"hello":{"v":1,"token":"` + strings.Repeat(secret, 20) + `"}}`,
	} {
		_, err := wire.DecodeUp([]byte(frame))
		require.Error(t, err)
		assert.NotContains(t, err.Error(), secret)
	}
	_, err := wire.DecodeBody[wire.CoachIn]([]byte(`{"key":["` + secret + `"]}`))
	require.Error(t, err)
	assert.NotContains(t, err.Error(), secret)
}

// W27: what a later version adds is passed over.
func TestUnknownFieldsArePassedOver(t *testing.T) {
	u, err := wire.DecodeUp([]byte(`{"drag":{"who":"H","new":{"a":[1,null,true,{"b":"c"}]},"at":[324,-36],"x":-1.5e3}}`))
	require.NoError(t, err)
	assert.Equal(t, wire.Up{Drag: &wire.Drag{Who: "H", At: session.Place{324, -36}}}, u)
	d, err := wire.DecodeDown([]byte(`{"new":1,"beat":{"t":5,"new":null}}`))
	require.NoError(t, err)
	assert.Equal(t, wire.Down{Beat: &wire.Beat{T: 5}}, d)
}

// An operation that is not known is the session's to refuse, not the codec's.
func TestUnknownOperationIsDecoded(t *testing.T) {
	u, err := wire.DecodeUp([]byte(`{"op":{"n":1,"op":{"do":"sing"}}}`))
	require.NoError(t, err)
	assert.Equal(t, "sing", u.Op.Op.Do)
}

// At the limit all is well; one past it is refused (see above).
func TestLimitsAreInclusive(t *testing.T) {
	text := strings.Repeat("é", wire.MaxText)
	deep := strings.Repeat("[", wire.MaxDepth-2) + strings.Repeat("]", wire.MaxDepth-2)
	elements := strings.TrimSuffix(strings.Repeat("1,", wire.MaxList), ",")
	entries := ""
	for i := range wire.MaxList {
		entries += fmt.Sprintf(`,"k%d":1`, i)
	}
	for _, frame := range []string{
		`{"point":{"who":"` + text + `"}}`,
		`{"point":{"who":"` + strings.ReplaceAll(text, "é", `\u00e9`) + `"}}`,
		`{"beat":{"t":1,"new":` + deep + `}}`,
		`{"beat":{"t":1,"new":[` + elements + `]}}`,
		`{"beat":{"t":1,"new":{` + entries[1:] + `}}}`,
		`{"drag":{"who":"","at":[-4320,4320]}}`,
		`{"beat":{"t":-9007199254740991}}`,
		" \r\n{ \"beat\" : { \"t\" : 1 } } \t",
	} {
		_, err := wire.DecodeUp([]byte(frame))
		assert.NoError(t, err, frame)
	}
}

func TestUpComesBackAsItWas(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		u := drawUp(t)
		b, err := wire.EncodeUp(u)
		require.NoError(t, err)
		got, err := wire.DecodeUp(b)
		require.NoError(t, err, "%s", b)
		require.Equal(t, u, got, "%s", b)
	})
}

// Whatever the hub can say is valid by the schemas and comes back as it was.
func TestDownComesBackAsItWas(t *testing.T) {
	v := wiretest.Validator()
	rapid.Check(t, func(t *rapid.T) {
		d := drawDown(t)
		b, err := wire.Encode(d)
		require.NoError(t, err)
		v.Down(t, b)
		got, err := wire.DecodeDown(b)
		require.NoError(t, err)
		require.Equal(t, d, got, "%s", b)
	})
}

// A change to a zero value is a change: it must not get lost on the way.
func TestChangeToNothingTravels(t *testing.T) {
	empty, no, none := "", false, []string{}
	set := session.Change{Title: &empty, Hidden: &no, Committed: &none, Motion: &session.Motion{},
		Spots: map[string]*session.Spot{"FS": nil}}
	b, err := wire.Encode(wire.Down{Facts: []wire.Fact{{Seq: 1, Chain: "0b7d44e1f29a6c05", Do: "x", Set: set}}})
	require.NoError(t, err)
	assert.JSONEq(t, `{"facts":[{"seq":1,"chain":"0b7d44e1f29a6c05","do":"x","set":
		{"title":"","hidden":false,"committed":[],"motion":{"who":"","from":[0,0],"to":[0,0],"line":false},"spots":{"FS":null}}}]}`, string(b))
}

func TestAbsentListsTravelAsEmpty(t *testing.T) {
	b, err := wire.EncodeBody(wire.BookOut{})
	require.NoError(t, err)
	assert.JSONEq(t, `{"name":"","looks":[],"calls":[],"plays":[],"squad":[],"caution":""}`, string(b))
}

func TestAppendDownKeepsWhatIsThere(t *testing.T) {
	dst := append(make([]byte, 0, 256), "before "...)
	out, err := wire.AppendDown(dst, wire.Down{Beat: &wire.Beat{T: 7}})
	require.NoError(t, err)
	assert.Equal(t, `before {"beat":{"t":7}}`, string(out))
	assert.Same(t, &dst[0], &out[0], "spare room is used")

	out, err = wire.AppendDown(dst, wire.Down{Bye: &wire.Bye{Code: "\xff"}})
	assert.ErrorContains(t, err, "wire: encode")
	assert.Equal(t, "before ", string(out))
}

func TestBodies(t *testing.T) {
	in, err := wire.DecodeBody[wire.JoinIn]([]byte(`{"code":"7K2M4P","name":"Ty","number":"21","later":1}`))
	require.NoError(t, err)
	assert.Equal(t, wire.JoinIn{Code: "7K2M4P", Name: "Ty", Number: "21"}, in)
	_, err = wire.DecodeBody[wire.JoinIn]([]byte(`{"code":"7K2M4P","name":"Ty"}`))
	assert.EqualError(t, err, "number is missing")
	_, err = wire.DecodeBody[wire.JoinIn]([]byte(`{"code":"7K2M4P","name":"Ty","number":21}`))
	assert.EqualError(t, err, "number: want text, not number")
	_, err = wire.DecodeBody[wire.SessionIn]([]byte(`{"title":"x"} {}`))
	assert.ErrorContains(t, err, "more than one JSON value")
}

func TestEveryCloseCodeHasItsWord(t *testing.T) {
	for _, c := range []int{wire.CloseRestart, wire.CloseSlow, wire.CloseQuiet, wire.CloseStale, wire.CloseReplaced,
		wire.CloseNoToken, wire.CloseNoSession, wire.CloseRemoved, wire.CloseVersion, wire.CloseBadHello} {
		assert.NotEmpty(t, wire.ByeCode(c))
		assert.Equal(t, c < 4500, wire.Resumable(c), c)
	}
	assert.Empty(t, wire.ByeCode(1000))
	assert.True(t, wire.Resumable(1006), "a connection that just ended")
}
