package wire

import "halfline/internal/session"

// Version is the protocol's version; Subprotocol is its name in the websocket
// handshake.
//
// 1 (2026-11): first.
const (
	Version     = 1
	Subprotocol = "halfline.1"
)

// Up is a frame from a device to the hub. It has exactly one part.
type Up struct {
	Hello *Hello `json:"hello,omitempty"`
	Op    *OpUp  `json:"op,omitempty"`
	Drag  *Drag  `json:"drag,omitempty"`
	Point *Point `json:"point,omitempty"`
	Beat  *Beat  `json:"beat,omitempty"`
}

// Hello is the first frame of a connection, at most 512 bytes, within 5 s.
type Hello struct {
	V     int    `json:"v"`
	Token string `json:"token"` // from POST /api/join or /api/coach
	// Session is needed with a coach's token, which opens any session.
	Session string `json:"session,omitempty"`
	// Client is this device's own random id, 16 hex digits; together with an
	// operation's counter it makes every operation happen once.
	Client string `json:"client" hex:"16"`
	// Wall asks for the read-only projector's view (with a coach's token).
	Wall   bool    `json:"wall,omitempty"`
	Resume *Resume `json:"resume,omitempty"`
}

// Resume says what a device has already.
type Resume struct {
	Epoch string `json:"epoch"`
	Have  uint64 `json:"have"`           // seq of the last fact applied
	Chain string `json:"chain" hex:"16"` // its chain, as the hub sent it
}

// OpUp is a durable operation. It is answered by one Ack or one Refused, after
// what it did is on stable storage.
type OpUp struct {
	N    uint64     `json:"n"`              // this client's count of his operations, from 1, no gaps
	Base uint64     `json:"base,omitempty"` // seq of the last fact he had seen
	Op   session.Op `json:"op"`
}

// Drag is passing: where a man is while he is dragged. It may be dropped and
// is replaced by the next. A place op ends it.
type Drag struct {
	Who string        `json:"who"`
	At  session.Place `json:"at"`
	By  string        `json:"by,omitempty"` // set by the hub: the member who drags
}

// Point is passing: look here. Who is a tag or spot; or At is a place.
type Point struct {
	Who string         `json:"who,omitempty"`
	At  *session.Place `json:"at,omitempty"`
	By  string         `json:"by,omitempty"` // set by the hub
}

// Beat shows that the other end is alive. The hub sends one after 2 s without
// another frame; the device answers each with its own, T copied.
type Beat struct {
	T int64 `json:"t"` // the hub's time, ms; it only goes forward
	// RTT is how long the quickest beat of this connection was under way to the
	// device and back, ms; absent: not known yet.
	RTT int64 `json:"rtt,omitempty"`
}

// Down is a frame from the hub to a device.
type Down struct {
	Welcome  *Welcome  `json:"welcome,omitempty"`
	Facts    []Fact    `json:"facts,omitempty"`
	Drags    []Drag    `json:"drags,omitempty"`
	Verdicts *Verdicts `json:"verdicts,omitempty"`
	Rep      *Track    `json:"rep,omitempty"`
	Roster   *Roster   `json:"roster,omitempty"`
	Points   []Point   `json:"points,omitempty"`
	Acks     []Ack     `json:"acks,omitempty"`
	Refused  []Refused `json:"refused,omitempty"`
	Beat     *Beat     `json:"beat,omitempty"`
	Bye      *Bye      `json:"bye,omitempty"`
}

// Welcome answers Hello. If State is there, it replaces what the device has;
// else the device goes on from what it had. Facts of the same frame follow.
type Welcome struct {
	V       int            `json:"v"`
	Session string         `json:"session"`
	Member  string         `json:"member"`
	Role    string         `json:"role" enum:"coach,player,wall"`
	Epoch   string         `json:"epoch"`
	Seq     uint64         `json:"seq"`            // of State, or of what the device had
	Chain   string         `json:"chain" hex:"16"` // its chain
	State   *session.State `json:"state,omitempty"`
	// Counter is the last operation of this client that the hub has applied.
	Counter uint64 `json:"counter"`
	T       int64  `json:"t"` // the hub's time, ms, as in beats
}

// Fact is one durable change, on stable storage.
type Fact struct {
	Seq    uint64         `json:"seq"`
	Chain  string         `json:"chain" hex:"16"`            // running checksum, only ever echoed by a device
	Client string         `json:"client,omitempty" hex:"16"` // whose operation made it; absent: the hub's own
	N      uint64         `json:"n,omitempty"`               // that client's count of it
	Do     string         `json:"do"`
	Set    session.Change `json:"set"`
}

// Ack says that operation N is durable, as fact Seq. Seq is 0 if the operation
// changed nothing.
type Ack struct {
	N     uint64 `json:"n"`
	Seq   uint64 `json:"seq"`
	Epoch string `json:"epoch"`
}

// Refused says that operation N was not done and why; nothing changed. N is 0
// for a frame that could not be read as an operation.
type Refused struct {
	N      uint64 `json:"n"`
	Code   string `json:"code"`
	Detail string `json:"detail,omitempty"`
	// RetryMS asks to send the same operation again after this long.
	RetryMS int `json:"retry_ms,omitempty"`
}

// Codes of refusals given by the hub itself; the session's are in package
// session.
const (
	CodeGap      = "gap"       // the counter jumped ahead: send the missing operations first
	CodeStorage  = "storage"   // the store cannot take it now: keep it, send it again
	CodeSlowDown = "slow-down" // too many at once: keep it, send it again
	CodeBadFrame = "bad-frame" // not JSON, unknown part, wrong type (detail says where)
)

// Roster is who is here. It is sent whole whenever it changes.
type Roster struct {
	People []Person `json:"people"`
	// Code and Link are sent to coaches and walls only, while the door is not
	// closed.
	Code string `json:"code,omitempty"`
	Link string `json:"link,omitempty"`
}

// Person is one member as others see him.
type Person struct {
	Member string `json:"member"`
	Name   string `json:"name"`   // short name
	Number string `json:"number"` // jersey
	Role   string `json:"role" enum:"coach,player,wall"`
	In     bool   `json:"in"`
	Here   bool   `json:"here"` // has a live connection
	Spot   string `json:"spot"`
}

// Bye is the last frame before the hub closes a connection. The websocket
// close code says what to do: 4000-4499 come back and resume, 4500-4999 stop
// and tell the person why.
type Bye struct {
	Code   string `json:"code"`
	WaitMS int    `json:"wait_ms,omitempty"` // come back after a random part of this
}

// Close codes.
const (
	CloseRestart   = 4001 // the server restarts: come back
	CloseSlow      = 4002 // the device fell too far behind: come back and resume
	CloseQuiet     = 4003 // no answer to beats
	CloseStale     = 4004 // this hub lost the session to another: come back
	CloseReplaced  = 4500 // the same device opened another page
	CloseNoToken   = 4501 // the token is unknown or has ended
	CloseNoSession = 4502 // the session is gone
	CloseRemoved   = 4503 // the coach took this member out
	CloseVersion   = 4504 // this protocol version is not spoken here
	CloseBadHello  = 4505 // the first frame was not a hello
)
