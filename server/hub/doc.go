// Package hub finds or starts the goroutine that owns a session, and is that
// goroutine. One owner holds one session's state; devices reach it through a
// Link, and it reaches them through an Outlet that never blocks.
//
//	Link.Op ──▶ inbox ──▶ owner: Decide on head ──▶ saver ──▶ store
//	                        │                                   │
//	Outlet ◀── facts, acks, verdicts ◀── Apply to shown ◀── saved
//
// Head is what has been decided, shown is what is on stable storage. Nothing
// that is not yet shown leaves the hub as settled: facts, snapshots, resumes
// and acknowledgements stop at the durable mark (D1, D2).
//
// It must not know of sockets or HTTP.
package hub
