// Package client carries the built web client, so that the server needs
// neither Node nor files beside it. It knows nothing of what the client does;
// the sources are in src, their tests in test, and package build turns them
// into dist.
//
// After a change in src:
//
//	go generate ./client
package client
