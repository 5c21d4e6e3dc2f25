// Package wire is what travels between the hub and a device: frames, their
// parts, limits and codes. PROTOCOL.md tells the flow; the AsyncAPI and
// OpenAPI documents and the client's types are generated from these types.
//
// A frame is one text message holding one JSON object whose keys are parts.
// A part that is absent says nothing. Parts of one frame are applied in the
// order in which Down declares them.
//
// It must not know of sockets or stores, and decides no authority: that is the
// session's.
package wire

//go:generate go run ./gen/cmd ../..
