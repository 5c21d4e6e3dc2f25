package browser

import (
	"errors"
	"fmt"
	"runtime"
)

// outside stands in for a test where none runs.
type outside struct {
	cleanups []func()
	failures []error
}

func (o *outside) Helper()             {}
func (o *outside) Logf(string, ...any) {}
func (o *outside) Cleanup(f func())    { o.cleanups = append(o.cleanups, f) }
func (o *outside) Errorf(f string, args ...any) {
	o.failures = append(o.failures, fmt.Errorf(f, args...))
}
func (o *outside) Fatalf(f string, args ...any) { o.Errorf(f, args...); runtime.Goexit() }

// Outside runs body as a test would be run, for programs that are none: the
// first fatal failure ends it, what it opened is closed in reverse order, and
// all failures come back joined. Body must fail from its own goroutine only.
func Outside(body func(TB)) error {
	o := &outside{}
	done := make(chan struct{})
	go func() { // ends with body; waited for below
		defer close(done)
		defer func() {
			for i := len(o.cleanups) - 1; i >= 0; i-- {
				o.cleanups[i]()
			}
		}()
		body(o)
	}()
	<-done
	return errors.Join(o.failures...)
}
