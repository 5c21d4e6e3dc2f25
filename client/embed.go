package client

import "embed"

// Dist is the built client: index.html, NOTICES.txt, and under assets/ the
// files whose names carry the checksum of their content, so that a browser may
// keep them for ever. The test beside this file proves it fresh.
//
//go:generate go run ./build/gen
//go:embed dist
var Dist embed.FS
