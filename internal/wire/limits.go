package wire

import "time"

// Limits of frames. PROTOCOL.md lists them for strangers; a socket must apply
// the three of bytes before it decodes anything.
const (
	// MaxFirst bounds the hello in bytes: whoever sends it is not known yet,
	// so nothing big is read for him.
	MaxFirst = 512
	// MaxUp bounds every other frame of a device in bytes. The biggest
	// operation, a picture of twenty-two men frozen in a moment, takes under
	// 4 KiB.
	MaxUp = 16 << 10
	// MaxDown bounds a frame of the hub in bytes; facts beyond it go into the
	// next frame.
	MaxDown = 32 << 10

	// MaxDepth bounds nesting. The deepest operation, a picture with a frozen
	// moment, needs all of it.
	MaxDepth = 8
	// MaxText bounds a string of a device in characters (Unicode code points).
	MaxText = 200
	// MaxList bounds an array of a device in elements.
	MaxList = 200
)

// Times that both ends must agree on.
const (
	// HelloWithin is how long a connection may take to say hello.
	HelloWithin = 5 * time.Second
	// BeatAfter is how long the hub stays quiet before it sends a beat.
	BeatAfter = 2 * time.Second
	// HubQuiet is when a device takes the hub for gone: three beats missed.
	HubQuiet = 6 * time.Second
	// DeviceQuiet is when the hub takes a device for gone. It is longer than
	// HubQuiet, so that the device finds out first and comes back by itself.
	DeviceQuiet = 10 * time.Second
	// DragQuiet is when a drag without news counts as let go.
	DragQuiet = 500 * time.Millisecond
)

// Rates, a second, and how many may come at once after a pause.
const (
	CoachOps       = 20
	CoachOpsBurst  = 40
	PlayerOps      = 5
	PlayerOpsBurst = 10
	// CoachHints and PlayerHints bound drags and points; more are dropped.
	CoachHints  = 40
	PlayerHints = 20
)
