// Package boltstore keeps sessions in one bbolt file on this machine. It is the
// only importer of bbolt, and nothing of bbolt shows outside.
//
// Writes go through one committer goroutine:
//
//	callers --op--> queue --up to 256 at once--> one transaction --sync--> answers
//
// It waits for nobody: what has queued up during one commit is the next. Each op
// gets an answer of its own; a refusal of one does not touch the others.
//
// Reads see only what has been synced: no read transaction starts while a
// commit is on its way to the disk (rule D2).
//
// After a fault in a commit the file is closed and read again from the disk;
// nothing is retried on a file whose sync went wrong.
//
// The file's buckets, numbers big-endian:
//
//	sessions  id                -> number, fence, last seq and chain, base, epoch
//	log       number, seq       -> record, see the codec in package store
//	recent    count of commits  -> the records of one commit, not yet in the log
//	snapshots number, seq       -> snapshot
//	items     number, key       -> value; number 0 is the server's table
//	self      format, fence, count, beat
//
// A number and a fence are never used twice, also not after a delete.
package boltstore
