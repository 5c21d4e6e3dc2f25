package wire

import _ "embed"

// The documents of the protocol as they stand beside this file, for whoever
// serves or tests them.
var (
	//go:embed asyncapi.yaml
	AsyncAPI string
	//go:embed openapi.yaml
	OpenAPI string
	//go:embed schema/wire.json
	Schema string
)
