// Command gen writes the built web client to dist. Run it as
// go generate ./client, which starts it in the client folder.
package main

import (
	"fmt"
	"os"

	"halfline/client/build"
)

func main() {
	files, err := build.Build("..")
	if err == nil {
		err = build.Write("dist", files)
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, "gen:", err)
		os.Exit(1)
	}
}
