// Package redisstore keeps sessions in Redis (6.2 or later), alone, behind
// sentinels or as a cluster. It is the only importer of go-redis, and nothing
// of go-redis shows outside.
//
// Every write is one Lua file of the folder lua, so it happens whole or not at
// all, and each may be sent twice: go-redis repeats calls in a cluster, and a
// caller repeats one whose answer he lost.
//
// The keys of a session share a hash tag, so they are on one node:
//
//	hl:{id}:meta   hash: epoch, nonce, fence, seq, chain (of the last record), base
//	hl:{id}:log    stream: records base+1 to seq, record n under the id 0-n, field r
//	hl:{id}:snap   hash: seq -> snapshot, at most two
//	hl:{id}:items  hash: the session's side table
//	hl:sessions    set: the ids of all sessions
//	hl:server      hash: the server's side table
//	hl:ready       what Ready writes
//
// Records and snapshots are in the codec of package store. A script cannot work
// out a chain, so this package keeps in mind where each log ends, validates
// records against that, and the script refuses if the log ends elsewhere.
//
// An answer means what Redis's settings make it mean: Open reads them, refuses
// those under which keys vanish and names those under which answers come before
// the disk.
package redisstore
