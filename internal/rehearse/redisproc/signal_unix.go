//go:build unix

package redisproc

import (
	"os"
	"syscall"
)

func halt(p *os.Process) error { return p.Signal(syscall.SIGSTOP) }
func goOn(p *os.Process) error { return p.Signal(syscall.SIGCONT) }
