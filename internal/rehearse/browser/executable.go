package browser

import (
	"errors"
	"os/exec"
)

// Package is the Debian package that brings the browser.
const Package = "chromium"

// Executable is the path of the browser. The name differs between systems.
func Executable() (string, error) {
	for _, name := range []string{"chromium", "chromium-browser", "google-chrome"} {
		if path, err := exec.LookPath(name); err == nil {
			return path, nil
		}
	}
	return "", errors.New("chromium not found: apt-get install -y --no-install-recommends " + Package)
}
