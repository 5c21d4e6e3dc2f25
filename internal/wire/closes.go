package wire

// byeCodes are the words for the close codes, carried by Bye because a script
// may get the frame and never the code: some networks cut instead of closing.
var byeCodes = map[int]string{
	CloseRestart:   "restart",
	CloseSlow:      "slow",
	CloseQuiet:     "quiet",
	CloseStale:     "stale",
	CloseReplaced:  "replaced",
	CloseNoToken:   "no-token",
	CloseNoSession: "no-session",
	CloseRemoved:   "removed",
	CloseVersion:   "version",
	CloseBadHello:  "bad-hello",
}

// ByeCode is the word for a close code of this protocol, empty for any other.
func ByeCode(closeCode int) string { return byeCodes[closeCode] }

// Resumable says whether a device is to come back after this close code by
// itself. Every code outside 4500-4999 is a reason to try again.
func Resumable(closeCode int) bool { return closeCode < 4500 || closeCode > 4999 }
