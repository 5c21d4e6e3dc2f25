package redisproc

import "syscall"

// dieWithParent ends the server with the test binary, also when that is killed
// and no cleanup runs.
func dieWithParent() *syscall.SysProcAttr {
	return &syscall.SysProcAttr{Pdeathsig: syscall.SIGKILL}
}
