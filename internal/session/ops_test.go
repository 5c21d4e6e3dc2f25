package session_test

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"halfline/internal/session"
)

// step is one operation of somebody; refused is empty if it is to be done.
type step struct {
	who     string
	op      session.Op
	refused string
}

func did(who string, op session.Op) step                 { return step{who: who, op: op} }
func not(refused string, who string, op session.Op) step { return step{who, op, refused} }

var (
	freeze  = session.Op{Do: "freeze", Play: "toss"}
	hide    = session.Op{Do: "hide", On: true}
	holdFS  = session.Op{Do: "hold", Spot: "FS"}
	holdN   = session.Op{Do: "hold", Spot: "N"}
	letgo   = session.Op{Do: "letgo"}
	commit  = session.Op{Do: "commit"}
	blocks  = session.Op{Do: "blocks", Blocks: []session.Block{{By: "H", On: "N"}}}
	lbOn    = session.Op{Do: "spot", Spot: "LB", On: true}
	toLeft  = session.Op{Do: "side", Side: "left"}
	snap    = session.Op{Do: "snap", Play: "toss"}
	floorTo = func(mode string) session.Op { return session.Op{Do: "floor", Mode: mode} }
)

func ptr[T any](v T) *T { return &v }

func broken(spot, rule string) session.Op {
	return session.Op{Do: "snap", Play: "toss", Errors: []session.Broken{{Spot: spot, Rule: rule}}}
}

func ballAt(hash string, yard int) session.Op {
	return session.Op{Do: "ball", Ball: &session.Ball{Rules: "nfhs", Hash: hash, Yard: yard}}
}

// cases are scripts, named as a coach would say it; the last step is the one
// that is meant. After each, the state must be valid.
var cases = map[string][]step{
	"a title":                      {did(head, session.Op{Do: "title", Text: "Wednesday"})},
	"an empty title":               {not("bad-value: text", head, session.Op{Do: "title"})},
	"a look":                       {did(head, session.Op{Do: "look", Look: "twins-left"})},
	"a look nobody has drawn":      {not("unknown: wishbone", head, session.Op{Do: "look", Look: "wishbone"})},
	"a call":                       {did(head, session.Op{Do: "call", Call: "quarters"})},
	"a call nobody has written":    {not("unknown: prevent", head, session.Op{Do: "call", Call: "prevent"})},
	"the other side":               {did(head, toLeft)},
	"no such side":                 {not("bad-value: side", head, session.Op{Do: "side", Side: "top"})},
	"the ball on a hash":           {did(head, ballAt("left", 25))},
	"the ball in the end zone":     {not("bad-value: ball", head, ballAt("left", 100))},
	"the ball on no hash":          {not("bad-value: ball", head, ballAt("wide", 30))},
	"no ball":                      {not("bad-value: ball", head, session.Op{Do: "ball"})},
	"a picture, or parts of it":    {did(head, back(&session.Picture{Side: "right"}))},
	"no picture":                   {not("bad-value: picture", head, session.Op{Do: "board"})},
	"a man of the offense":         {did(head, put("H", 10, -1))},
	"a spot":                       {did(head, put("FS", 7, 12))},
	"nobody's tag":                 {not("unknown: K", head, put("K", 0, 0))},
	"to no place":                  {not("bad-value: at", head, session.Op{Do: "place", Who: "H"})},
	"off the field":                {not("off-field: H", head, put("H", 30, -1))},
	"offense beyond the line":      {not("illegal-move: H beyond the line", head, put("H", 9, 1))},
	"defense in the backfield":     {did(head, put("N", 9, -1))},
	"offense beyond, once it runs": {did(head, freeze), did(head, put("H", 9, 4))},
	"his own man":                  {did(ty, holdFS), did(ty, put("FS", 7, 12))},
	"another's man":                {did(ty, holdFS), did(bo, holdN), not("not-allowed: N", ty, put("N", 7, 5))},
	"a free man":                   {did(ty, holdFS), not("not-allowed: N", ty, put("N", 7, 5))},
	"the offense, by a player":     {did(ty, holdFS), not("not-allowed: H", ty, put("H", 7, -2))},
	"any man, when all may":        {did(head, floorTo("all")), did(ty, put("H", 7, -2)), did(ty, put("N", 7, 5))},
	"while the coach has the floor": {did(ty, holdFS), did(head, floorTo("coach")), did(head, put("FS", 7, 12)),
		not("floor", ty, put("FS", 7, 12))},
	"after he has committed":      {did(ty, holdFS), did(head, hide), did(ty, commit), not("committed", ty, put("FS", 7, 12))},
	"another, after he committed": {did(head, floorTo("all")), did(ty, holdFS), did(head, hide), did(ty, commit), not("committed", bo, put("FS", 7, 12))},
	"the coach, after he did":     {did(ty, holdFS), did(head, hide), did(ty, commit), did(head, put("FS", 7, 12))},
	"up to the line":              {did(head, session.Op{Do: "line", Who: "H", On: true})},
	"a spot up to the line":       {not("unknown: N", head, session.Op{Do: "line", Who: "N", On: true})},
	"the linebacker on":           {did(head, lbOn)},
	"the linebacker twice":        {did(head, lbOn), did(head, lbOn)},
	"the linebacker off":          {did(head, lbOn), did(head, session.Op{Do: "spot", Spot: "LB"})},
	"a held spot off":             {did(ty, holdFS), did(head, session.Op{Do: "spot", Spot: "FS"})},
	"a spot no call knows":        {not("unknown: XX", head, session.Op{Do: "spot", Spot: "XX", On: true})},
	"a spot on while frozen":      {did(head, freeze), not("frozen", head, lbOn)},
	"one lined up":                {did(head, put("N", 20, 20)), did(head, session.Op{Do: "lineup", Who: "N"})},
	"all lined up":                {did(ty, holdFS), did(head, put("N", 20, 20)), did(head, session.Op{Do: "lineup"})},
	"lined up while frozen":       {did(head, freeze), not("frozen", head, session.Op{Do: "lineup"})},
	"nobody lined up":             {not("unknown: XX", head, session.Op{Do: "lineup", Who: "XX"})},
	"in motion":                   {did(head, send("B", 13, -2))},
	"sent on in motion":           {did(head, send("B", 13, -2)), did(head, send("B", 16, -2))},
	"back from motion":            {did(head, send("B", 13, -2)), did(head, session.Op{Do: "motion"})},
	"back from no motion":         {did(head, session.Op{Do: "motion"})},
	"two in motion":               {did(head, send("B", 13, -2)), not("illegal-move: B is in motion already", head, send("H", 0, -2))},
	"a lineman in motion":         {not("illegal-move: SN is a lineman: he may not be in motion", head, send("SN", 5, -5))},
	"motion up to the line": {not("illegal-move: B would be on the line at the snap: at least half a yard behind it",
		head, send("B", 13, 0))},
	"off the line in motion, too near": {not("illegal-move: Z starts on the line: 5 yd deep at the snap, or let him be set again as a back",
		head, send("Z", 10, -2))},
	"off the line in motion, deep": {did(head, send("Z", 10, -5)), did(head, session.Op{Do: "motion"})},
	"motion of nobody":             {not("unknown: K", head, send("K", 13, -2))},
	"motion to no place":           {not("bad-value: at", head, session.Op{Do: "motion", Who: "B"})},
	"motion out of bounds":         {not("off-field: B", head, send("B", 30, -2))},
	"motion while frozen":          {did(head, freeze), not("frozen", head, send("B", 13, -2))},
	"placed out of motion":         {did(head, send("B", 13, -2)), did(head, put("B", 12, -2))},
	"frozen":                       {did(head, freeze)},
	"frozen again":                 {did(head, freeze), did(head, put("N", 20, 3)), did(head, session.Op{Do: "freeze", Play: "swing"})},
	"a play nobody has written":    {not("unknown: draw", head, session.Op{Do: "freeze", Play: "draw"})},
	"thawed":                       {did(head, freeze), did(head, session.Op{Do: "thaw"})},
	"thawed without a moment":      {did(head, session.Op{Do: "thaw"})},
	"too late":                     {did(head, freeze), did(head, session.Op{Do: "late", Who: "FS", On: true})},
	"too late, and not after all":  {did(head, freeze), did(head, session.Op{Do: "late", Who: "FS", On: true}), did(head, session.Op{Do: "late", Who: "FS"})},
	"too late before the snap":     {not("no-moment", head, session.Op{Do: "late", Who: "FS", On: true})},
	"the offense too late":         {did(head, freeze), not("unknown: H", head, session.Op{Do: "late", Who: "H", On: true})},
	"blocks":                       {did(head, freeze), did(head, blocks)},
	"no blocks":                    {did(head, freeze), did(head, session.Op{Do: "blocks"})},
	"blocks before the snap":       {not("no-moment", head, blocks)},
	"a block on nobody":            {did(head, freeze), not("unknown: XX", head, session.Op{Do: "blocks", Blocks: []session.Block{{By: "H", On: "XX"}}})},
	"a block by the carrier":       {did(head, freeze), not("bad-value: by B", head, session.Op{Do: "blocks", Blocks: []session.Block{{By: "B", On: "N"}}})},
	"two blocks by one":            {did(head, freeze), not("bad-value: by H", head, session.Op{Do: "blocks", Blocks: []session.Block{{By: "H", On: "N"}, {By: "H", On: "C"}}})},
	"a block by a defender":        {did(head, freeze), not("bad-value: by C", head, session.Op{Do: "blocks", Blocks: []session.Block{{By: "C", On: "N"}}})},
	"twelve blocks":                {did(head, freeze), not("bad-value: blocks", head, session.Op{Do: "blocks", Blocks: make([]session.Block, 12)})},
	"a rep":                        {did(head, snap)},
	"a rep again":                  {did(head, snap), did(head, snap)},
	"a rep out of a moment":        {did(head, freeze), did(head, snap)},
	"a moment out of a rep":        {did(head, snap), did(head, freeze)},
	"a rep with a rule broken": {did(head, session.Op{Do: "snap", Play: "toss", Mode: "half", Seed: 7, Lane: ptr(0),
		Errors: []session.Broken{{Spot: "N", Rule: "over-the-top"}}})},
	"a rep of no play":             {not("unknown: draw", head, session.Op{Do: "snap", Play: "draw"})},
	"a rep at a run":               {not("bad-value: mode", head, session.Op{Do: "snap", Play: "toss", Mode: "run"})},
	"a rep through no lane":        {not("bad-value: lane", head, session.Op{Do: "snap", Play: "toss", Lane: ptr(-2)})},
	"a rule of nobody":             {not("unknown: XX", head, broken("XX", "late"))},
	"no such rule":                 {not("bad-value: errors", head, broken("N", "asleep"))},
	"a rep walked":                 {did(head, snap), did(head, session.Op{Do: "roll", Mode: "walk"})},
	"a rep rolled from the snap":   {did(head, snap), did(head, session.Op{Do: "roll", Ms: ptr(0)})},
	"a rep rolled at no speed":     {did(head, snap), not("bad-value: mode", head, session.Op{Do: "roll", Mode: "run"})},
	"no rep to roll":               {not("no-rep", head, session.Op{Do: "roll"})},
	"a rep stopped":                {did(head, snap), did(head, session.Op{Do: "stop", Ms: ptr(900)})},
	"a rep stopped beyond its end": {did(head, snap), did(head, session.Op{Do: "stop", Ms: ptr(99000)})},
	"a rep stopped at no speed":    {did(head, snap), not("bad-value: mode", head, session.Op{Do: "stop", Mode: "run"})},
	"no rep to stop":               {did(head, freeze), not("no-rep", head, session.Op{Do: "stop"})},
	"set again":                    {did(head, snap), did(head, session.Op{Do: "set"})},
	"set out of a moment":          {did(head, freeze), did(head, session.Op{Do: "set"})},
	"a player moves in a rep":      {did(ty, holdFS), did(head, snap), not("floor", ty, put("FS", 7, 12))},
	"the floor":                    {did(head, floorTo("coach"))},
	"the floor to nobody":          {not("bad-value: mode", head, floorTo("wall"))},
	"hidden":                       {did(head, hide)},
	"shown again":                  {did(ty, holdFS), did(head, hide), did(ty, commit), did(head, session.Op{Do: "hide"})},
	"committed":                    {did(ty, holdFS), did(bo, holdN), did(head, hide), did(bo, commit), did(ty, commit)},
	"committed twice":              {did(ty, holdFS), did(head, hide), did(ty, commit), did(ty, commit)},
	"committed in the open":        {did(ty, holdFS), did(ty, commit)},
	"committed without a spot":     {did(head, hide), not("no-spot", ty, commit)},
	"the door":                     {did(head, session.Op{Do: "door", Mode: "closed"})},
	"half a door":                  {not("bad-value: mode", head, session.Op{Do: "door", Mode: "ajar"})},
	"let in":                       {did(head, session.Op{Do: "admit", Member: late}), did(late, holdFS)},
	"let in twice":                 {did(head, session.Op{Do: "admit", Member: ty})},
	"a stranger let in":            {not("unknown: stranger", head, session.Op{Do: "admit", Member: "stranger"})},
	"taken out":                    {did(ty, holdFS), did(head, hide), did(ty, commit), did(head, session.Op{Do: "remove", Member: ty}), not("not-allowed: place", ty, put("FS", 7, 12))},
	"a coach taken out":            {not("not-allowed: remove", head, session.Op{Do: "remove", Member: head})},
	"a stranger taken out":         {not("unknown: stranger", head, session.Op{Do: "remove", Member: "stranger"})},
	"held":                         {did(ty, holdFS)},
	"held already":                 {did(ty, holdFS), not("held: FS", bo, holdFS)},
	"held by himself":              {did(ty, holdFS), did(ty, holdFS)},
	"from one spot to another":     {did(ty, holdFS), did(head, hide), did(ty, commit), did(ty, holdN)},
	"no such spot":                 {not("unknown: LB", ty, session.Op{Do: "hold", Spot: "LB"})},
	"let go":                       {did(ty, holdFS), did(ty, letgo)},
	"nothing to let go":            {not("no-spot", ty, letgo)},
	"given":                        {did(head, session.Op{Do: "give", Spot: "FS", Member: ty})},
	"given to whom it has":         {did(ty, holdFS), did(head, session.Op{Do: "give", Spot: "FS", Member: ty})},
	"given to another":             {did(ty, holdFS), did(bo, holdN), did(head, hide), did(ty, commit), did(bo, commit), did(head, session.Op{Do: "give", Spot: "FS", Member: bo})},
	"freed":                        {did(ty, holdFS), did(head, session.Op{Do: "give", Spot: "FS"})},
	"freed, that nobody holds":     {did(head, session.Op{Do: "give", Spot: "FS"})},
	"given to a wall":              {not("unknown: wall", head, session.Op{Do: "give", Spot: "FS", Member: wall})},
	"given to who waits":           {not("unknown: late", head, session.Op{Do: "give", Spot: "FS", Member: late})},
	"no such spot given":           {not("unknown: LB", head, session.Op{Do: "give", Spot: "LB", Member: ty})},
	"the moment of an older call":  {did(head, lbOn), did(head, freeze), did(head, session.Op{Do: "late", Who: "N", On: true}), did(head, session.Op{Do: "call", Call: "3-sky"})},
}

func TestOperations(t *testing.T) {
	for name, steps := range cases {
		t.Run(name, func(t *testing.T) {
			r := begin(t)
			for _, s := range steps {
				if s.refused != "" {
					assert.Equal(t, s.refused, r.refused(s.who, s.op))
					continue
				}
				r.do(s.who, s.op)
				require.Empty(t, valid(&r.st, r.b), "after %s of %s", s.op.Do, s.who)
			}
		})
	}
}

// Every operation is tried both ways, but for those that nothing can keep from
// being done.
func TestEveryOperationIsTriedBothWays(t *testing.T) {
	always := []string{"hide", "thaw", "set"}
	done, refused := map[string]bool{}, map[string]bool{}
	for _, steps := range cases {
		for _, s := range steps {
			if s.refused == "" {
				done[s.op.Do] = true
			} else {
				refused[s.op.Do] = true
			}
		}
	}
	for _, do := range session.Ops {
		assert.True(t, done[do], "%s is never done", do)
		assert.Equal(t, !slices.Contains(always, do), refused[do], "%s is never refused", do)
	}
}

func TestWhatIsSoAlreadyChangesNothing(t *testing.T) {
	r := begin(t)
	r.do(ty, holdFS)
	for who, ops := range map[string][]session.Op{
		head: {{Do: "side", Side: "right"}, {Do: "thaw"}, {Do: "set"}, {Do: "motion"}, {Do: "admit", Member: ty}, {Do: "spot", Spot: "N", On: true},
			{Do: "spot", Spot: "LB"}, {Do: "give", Spot: "N"}, {Do: "give", Spot: "FS", Member: ty}},
		ty: {holdFS, commit},
	} {
		for _, op := range ops {
			c, refused := r.decide(who, op)
			assert.Nil(t, refused, op.Do)
			assert.True(t, c.Empty(), op.Do)
		}
	}
}

func TestMayDragIsTheRuleForPlace(t *testing.T) {
	r := begin(t)
	r.do(ty, holdFS)
	for _, who := range []string{head, wall, ty, bo, late} {
		for _, man := range []string{"FS", "N", "H", "K"} {
			for _, at := range []session.Place{yards(5, 8), yards(5, -8), yards(99, 0)} {
				op := session.Op{Do: "place", Who: man, At: &at}
				_, refused := r.decide(who, op)
				assert.Equal(t, refused, session.MayDrag(&r.st, r.b, actor(who, op), man, at))
			}
		}
	}
}

// A drag that ends without a word ends where it was, whatever the floor is now.
func TestRestAsksNoFloor(t *testing.T) {
	r := begin(t)
	r.do(head, floorTo("coach"))
	for who, at := range map[string]session.Place{"FS": yards(7, 12), "H": yards(10, -1)} {
		c, refused := session.Rest(&r.st, r.b, who, at)
		require.Nil(t, refused)
		r.st.Apply(c)
		got, ok := r.st.Where(who)
		assert.True(t, ok)
		assert.Equal(t, at, got)
	}
	_, refused := session.Rest(&r.st, r.b, "K", yards(0, 0))
	assert.Equal(t, session.CodeUnknown, refused.Code)
	_, refused = session.Rest(&r.st, r.b, "H", yards(99, -1))
	assert.Equal(t, session.CodeOffField, refused.Code)
	r.do(head, freeze)
	r.do(head, put("FS", 5, 5))
	at, _ := r.st.Where("FS")
	assert.Equal(t, yards(5, 5), at, "in the moment")
	r.do(head, session.Op{Do: "thaw"})
	at, _ = r.st.Where("FS")
	assert.Equal(t, yards(7, 12), at, "and before it")
	_, ok := r.st.Where("K")
	assert.False(t, ok)
}
