// Package browser drives a real headless browser for tests: pages of phone,
// tablet and wall sizes, fingers and mice, and an account of every request and
// every console error.
package browser
