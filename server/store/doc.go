// Package store is the contract for where sessions are kept: an append-only
// log of records per session, its snapshots, and small side tables. It knows
// nothing of football or of sockets; what a record means is the session's
// business.
//
// Two stores keep the contract, boltstore (one machine) and redisstore; the
// suite in storetest runs on both.
package store
