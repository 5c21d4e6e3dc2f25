package boltstore

import (
	"os"
	"syscall"
)

// forgetCache drops the file's pages from memory. After a sync went wrong the
// kernel may take pages for written that never reached the disk; what is read
// next is to be what the disk has.
func forgetCache(file string) {
	f, err := os.Open(file)
	if err != nil {
		return // the reopening that follows says why
	}
	defer f.Close()
	const dontNeed = 4 // POSIX_FADV_DONTNEED of linux/fadvise.h
	_, _, _ = syscall.Syscall6(syscall.SYS_FADVISE64, f.Fd(), 0, 0, dontNeed, 0, 0)
}
