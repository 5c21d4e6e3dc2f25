//go:build unix

package boltstore

import (
	"os"
	"syscall"
)

// noRoom are the errors after which nothing was written, and a later try may
// go well.
var noRoom = []syscall.Errno{syscall.ENOSPC, syscall.EDQUOT, syscall.EFBIG, syscall.EROFS}

// syncFolder makes the file's name durable, as the file itself is already.
func syncFolder(folder string) error {
	d, err := os.Open(folder)
	if err != nil {
		return err
	}
	defer d.Close()
	return d.Sync()
}
