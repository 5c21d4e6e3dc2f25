package redisproc

import (
	"net"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"go.uber.org/goleak"
)

func TestMain(m *testing.M) { goleak.VerifyTestMain(m) }

// say sends one inline command and returns the first line of the answer.
func say(addr, command string, wait time.Duration) (string, error) {
	conn, err := net.Dial("tcp", addr)
	if err != nil {
		return "", err
	}
	defer conn.Close()
	if err := conn.SetDeadline(time.Now().Add(wait)); err != nil {
		return "", err
	}
	if _, err := conn.Write([]byte(command + "\r\n")); err != nil {
		return "", err
	}
	b := make([]byte, 256)
	n, err := conn.Read(b)
	return string(b[:n]), err
}

func TestServerComesAndGoes(t *testing.T) {
	var addr string
	t.Run("life", func(t *testing.T) {
		p := Start(t, "appendonly yes", "appendfsync always")
		addr = p.Addr
		assert.Equal(t, "redis://"+addr, p.URL())
		got, err := say(addr, "SET k v", time.Second)
		require.NoError(t, err)
		assert.Equal(t, "+OK\r\n", got)

		p.Pause()
		_, err = say(addr, "PING", 50*time.Millisecond)
		require.ErrorIs(t, err, os.ErrDeadlineExceeded, "connections open, no answer")
		p.Resume()
		got, err = say(addr, "PING", 5*time.Second)
		require.NoError(t, err)
		assert.Equal(t, "+PONG\r\n", got)

		p.Kill()
		p.Kill()
		_, err = net.Dial("tcp", addr)
		require.Error(t, err)
		p.Restart()
		assert.Equal(t, addr, p.Addr)
		got, err = say(addr, "GET k", time.Second)
		require.NoError(t, err)
		assert.Equal(t, "$1\r\nv\r\n", got)
		assert.DirExists(t, filepath.Join(p.Folder(), "appendonlydir"), "files are in the test's own folder")
	})
	_, err := net.Dial("tcp", addr)
	require.Error(t, err, "gone with its test")
}

func TestServersDoNotMeet(t *testing.T) {
	one, two := Start(t), Start(t, "requirepass secret")
	assert.NotEqual(t, one.Addr, two.Addr)
	assert.NotEqual(t, "6379", one.Port())
	got, err := say(two.Addr, "GET k", time.Second)
	require.NoError(t, err)
	assert.Contains(t, got, "NOAUTH")
}

// A server that another process keeps from its port ends by itself, which is
// seen as such and not taken for an answer.
func TestTakenPortIsSeen(t *testing.T) {
	p := Start(t)
	other := &Proc{t: t, folder: t.TempDir(), Addr: p.Addr}
	port, err := net.ResolveTCPAddr("tcp", p.Addr)
	require.NoError(t, err)
	require.NoError(t, other.configure(port.Port, nil))
	require.ErrorIs(t, other.start(), errPort)
	got, err := say(p.Addr, "PING", time.Second)
	require.NoError(t, err)
	assert.Equal(t, "+PONG\r\n", got)
}
