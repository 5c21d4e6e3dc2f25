package session_test

import (
	"reflect"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"halfline/internal/session"
)

// mayDo is the whole table: who may send what at all. Everything else is refused.
var mayDo = map[string]string{ // operation: roles
	"title": "coach", "look": "coach", "call": "coach", "side": "coach", "ball": "coach", "board": "coach",
	"place": "coach player",
	"line":  "coach", "spot": "coach", "lineup": "coach", "motion": "coach",
	"freeze": "coach", "thaw": "coach", "late": "coach", "blocks": "coach",
	"snap": "coach", "roll": "coach", "stop": "coach", "set": "coach",
	"floor": "coach", "hide": "coach", "commit": "player",
	"door": "coach", "admit": "coach", "remove": "coach",
	"hold": "player", "letgo": "player", "give": "coach",
}

func TestEveryRoleAndOperation(t *testing.T) {
	assert.Len(t, mayDo, len(session.Ops))
	for _, do := range append([]string{"", "reload", "Place", "create", "join"}, session.Ops...) {
		known := mayDo[do] != ""
		for who, role := range map[string]string{head: session.Coach, ty: session.Player, wall: session.Wall, late: "", "stranger": ""} {
			t.Run(who+" "+do, func(t *testing.T) {
				r := begin(t)
				op := session.Op{Do: do}
				_, refused := r.decide(who, op)
				code := ""
				if refused != nil {
					code = refused.Code
				}
				may := role != "" && strings.Contains(mayDo[do], role)
				switch {
				case !known:
					assert.Equal(t, session.CodeUnsupported, code)
				case who == late:
					assert.Equal(t, session.CodeWaiting, code)
				case !may:
					assert.Equal(t, session.CodeNotAllowed, code)
					assert.Equal(t, do, refused.Detail)
				default:
					assert.NotEqual(t, session.CodeNotAllowed, code)
					assert.NotEqual(t, session.CodeUnsupported, code)
				}
				if role != "" {
					assert.Equal(t, may, session.Allowed(role, do))
				}
			})
		}
	}
	assert.False(t, session.Allowed("manager", "place"), "a role nobody has")
}

// The schema lists the operations for strangers; it must be the same list.
func TestPublishedOperationsAreThese(t *testing.T) {
	f, ok := reflect.TypeFor[session.Op]().FieldByName("Do")
	assert.True(t, ok)
	assert.Equal(t, strings.Join(session.Ops, ","), f.Tag.Get("enum"))
}

func TestPlainWords(t *testing.T) {
	for text, ok := range map[string]bool{
		"Ty": true, "Ty Jr.": true, "Émile": true, "": false, "thirteen chars": false, "twelve chars": true,
		"a\nb": false, "a\u202eb": false, "a\u0000": false, "\ufffd": false, "\xff": false, "a\u200bb": false,
	} {
		assert.Equal(t, ok, session.PlainName(text), "%q", text)
	}
	assert.True(t, session.PlainTitle(strings.Repeat("é", 40)))
	assert.False(t, session.PlainTitle(strings.Repeat("é", 41)))
}

func TestMembersAtTheDoor(t *testing.T) {
	r := begin(t)
	for door, in := range map[string]bool{session.DoorOpen: true, session.DoorKnock: false, session.DoorClosed: false} {
		r.st.Door = door
		c, refused := session.Join(&r.st, "new", session.Player)
		assert.Nil(t, refused)
		assert.Equal(t, in, c.Members["new"].In, door)
		c, _ = session.Join(&r.st, "new", session.Coach)
		assert.True(t, c.Members["new"].In, "a coach never waits")
	}
	for len(r.st.Members) < session.MaxMembers {
		c, _ := session.Join(&r.st, strings.Repeat("x", len(r.st.Members)), session.Player)
		r.st.Apply(c)
	}
	_, refused := session.Join(&r.st, "one more", session.Player)
	assert.Equal(t, session.CodeTooMany, refused.Code)
}

// What a member may see. Hidden answers: nothing before he commits, his own
// after; signs of the others never while they are hidden.
func TestSightOf(t *testing.T) {
	all, none := session.Sight{All: true, Others: true}, session.Sight{}
	for name, c := range map[string]struct {
		who       string
		hidden    bool
		committed []string
		want      session.Sight
	}{
		"coach":                       {who: head, want: all},
		"coach, hidden":               {who: head, hidden: true, want: all},
		"wall":                        {who: wall, want: all},
		"wall, hidden":                {who: wall, hidden: true, want: none},
		"wall, hidden, committed":     {who: wall, hidden: true, committed: []string{"FS", "N"}, want: none},
		"player":                      {who: ty, want: session.Sight{Own: "FS", Others: true}},
		"player, hidden":              {who: ty, hidden: true, want: none},
		"player, another committed":   {who: ty, hidden: true, committed: []string{"N"}, want: none},
		"player, he committed":        {who: ty, hidden: true, committed: []string{"FS"}, want: session.Sight{Own: "FS"}},
		"player without spot":         {who: bo, want: session.Sight{Others: true}},
		"player without spot, hidden": {who: bo, hidden: true, want: none},
		"waiting":                     {who: late, want: none},
		"stranger":                    {who: "stranger", want: none},
		"nobody":                      {who: "", want: none},
	} {
		t.Run(name, func(t *testing.T) {
			r := begin(t)
			r.do(ty, session.Op{Do: "hold", Spot: "FS"})
			r.st.Hidden, r.st.Committed = c.hidden, c.committed
			assert.Equal(t, c.want, r.st.SightOf(c.who))
		})
	}
}
