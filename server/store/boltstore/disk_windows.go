package boltstore

import "syscall"

// noRoom are the errors after which nothing was written, and a later try may
// go well: ERROR_HANDLE_DISK_FULL, ERROR_DISK_FULL, ERROR_WRITE_PROTECT
// (Microsoft, System Error Codes 0-499).
var noRoom = []syscall.Errno{39, 112, 19}

// syncFolder has nothing to do: folders cannot be synced here.
func syncFolder(string) error { return nil }
