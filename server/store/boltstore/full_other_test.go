//go:build !linux

package boltstore

import "errors"

func playFullDisk() error { return errors.New("only on linux, where the test for it is") }
