package main

import (
	"bytes"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"

	"halfline/internal/rehearse/browser"
)

func TestStoryLines(t *testing.T) {
	var out bytes.Buffer
	storyLines(&out, storyFigures{
		load: []browser.Request{
			{URL: "http://h/", Kind: "Document", Bytes: 1200},
			{URL: "http://h/assets/app.js", Kind: "Script", Bytes: 40_000},
			{URL: "http://h/assets/app.css", Kind: "Stylesheet", Bytes: 5050},
			{URL: "http://h/api/join", Kind: "Fetch", Bytes: 300},
			{URL: "ws://h/live", Kind: "WebSocket"},
		},
		clone: 500 * time.Millisecond, build: 2 * time.Second, verdict: 1250 * time.Millisecond,
	})
	assert.Equal(t, "* First load of the player's page: 3 requests, 46.2 kB compressed, headers included; then 1 API call and 1 socket.\n"+
		"* From `git clone` to the first phone's verdict: 3.8 s (clone 0.5, build with warm caches 2.0, start, join and verdict 1.2).\n", out.String())
}

func TestRequestsAfterTheLoadAreWorded(t *testing.T) {
	assert.Equal(t, "nothing", counted(nil))
	assert.Equal(t, "2 API calls", counted(map[string]int{"call": 2}))
	assert.Equal(t, "1 API call and 2 sockets", counted(map[string]int{"call": 1, "socket": 2}))
}
