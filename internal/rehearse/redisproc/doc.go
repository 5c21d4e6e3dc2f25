// Package redisproc runs a redis-server of its own for a test: on a free port,
// in a folder of the test, gone when the test ends, however it ends. It knows
// how to kill, restart, halt and resume it, and nothing of what is stored in it.
// Only tests import it.
package redisproc
