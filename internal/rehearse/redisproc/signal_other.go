//go:build !unix

package redisproc

import (
	"errors"
	"os"
)

var errHalt = errors.New("this system cannot halt a process")

func halt(*os.Process) error { return errHalt }
func goOn(*os.Process) error { return errHalt }
