// Package gen prints everything that is derived from the Go types of the
// protocol: the client's types, the JSON Schemas, the AsyncAPI and OpenAPI
// documents, the golden frames. Comments and code tables are read from the Go
// source, shapes from package shape.
//
// It must not decide anything about the protocol: what is not in the Go types
// or their comments is not printed, except for the frame of each document.
package gen
