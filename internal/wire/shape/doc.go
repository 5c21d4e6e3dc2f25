// Package shape tells what JSON a Go type of the protocol stands for: which
// keys an object has, which of them must be there, where null may stand, how
// long a tuple is, within which bounds an integer lies.
//
// The decoder checks frames against shapes; the JSON Schemas, the documents
// and the client's types are printed from them. So one reading of the Go types
// serves all, and they cannot drift apart.
//
// Reading of a struct field:
//
//	T  `json:"k"`             must be there, never null
//	*T `json:"k"`             must be there, may be null
//	T  `json:"k,omitempty"`   may be absent, never null
//	*T `json:"k,omitempty"`   may be absent, never null
//	map[string]*T             an entry may be null
//	`enum:"a,b"`              a string out of these; on a map or list, its elements
//	`hex:"16"`                a string of so many lower-case hex digits
//
// It must not know of any particular message.
package shape
