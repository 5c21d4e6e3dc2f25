package example

import (
	"fmt"

	"halfline/internal/wire"
)

// Frame is one example. Exactly one of Up and Down is set.
type Frame struct {
	Name string // of the golden file, "up-op-place"
	Part string // the part it shows, "op"
	Say  string // what happens, one sentence
	Up   *wire.Up
	Down *wire.Down
}

// JSON is the frame as it travels.
func (f Frame) JSON() []byte {
	var b []byte
	var err error
	if f.Up != nil {
		b, err = wire.EncodeUp(*f.Up)
	} else {
		b, err = wire.Encode(*f.Down)
	}
	if err != nil {
		panic(fmt.Sprintf("example %s: %v", f.Name, err)) // a slip in this package
	}
	return b
}

// Frames lists all examples: those of a device, then those of the hub, each in
// the order in which the parts are declared.
func Frames() []Frame {
	return append(append(helloFrames(), append(opFrames(), passingFrames()...)...), downFrames()...)
}

// Random ids, made up once. They open nothing.
const (
	token  = "5f0c2b7a9d1e4c3886aa01f27d5be94410c3d672"
	client = "9a41c07e55d2f318"
	epoch  = "k3vx9q"
	id     = "w7d2"
)
