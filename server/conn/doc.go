// Package conn is one device's socket: a reader, a writer, beats and a bounded
// outbox. It speaks frames and knows nothing of sessions; who answers frames is
// a Handler.
//
//	reader ──▶ Handler            (one goroutine)
//	Outbox ──▶ writer ──▶ socket  (one goroutine)
//
// The library allows one reader and one writer; nobody else touches the socket.
package conn
