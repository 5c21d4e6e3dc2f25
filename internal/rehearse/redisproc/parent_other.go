//go:build !linux

package redisproc

import "syscall"

func dieWithParent() *syscall.SysProcAttr { return nil }
