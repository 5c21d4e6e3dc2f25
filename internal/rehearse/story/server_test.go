package story

import (
	"bufio"
	"fmt"
	"net"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	// The binary is built from these: naming them lets the tool see that a
	// result is stale when one of them changes.
	_ "halfline/client"
	_ "halfline/server/gate"
	_ "halfline/server/store/boltstore"
	_ "halfline/server/store/redisstore"
	_ "halfline/server/web"
)

// program builds the binary once for all tests of this package.
var program = sync.OnceValues(func() (string, error) {
	dir, err := os.MkdirTemp("", "halfline-story")
	if err != nil {
		return "", err
	}
	bin := filepath.Join(dir, "halfline")
	out, err := exec.Command("go", "build", "-o", bin, "halfline/cmd/halfline").CombinedOutput()
	if err != nil {
		return "", fmt.Errorf("build: %w: %s", err, out)
	}
	return bin, nil
})

func TestMain(m *testing.M) {
	code := m.Run()
	if bin, err := program(); err == nil {
		os.RemoveAll(filepath.Dir(bin))
	}
	os.Exit(code)
}

// server is one halfline process on a port and a data folder of its own.
type server struct {
	t     *testing.T
	addr  string
	args  []string
	cmd   *exec.Cmd
	coach string // the coach's link of this start
	log   *strings.Builder
}

var coachLink = regexp.MustCompile(`https?://\S+/#coach=[0-9a-f]+`)

func start(t *testing.T, extra ...string) *server {
	ln, err := net.Listen("tcp", "127.0.0.1:0")
	require.NoError(t, err)
	s := &server{t: t, addr: ln.Addr().String()}
	require.NoError(t, ln.Close())
	s.args = append([]string{"serve", "--addr", s.addr, "--data", filepath.Join(t.TempDir(), "data")}, extra...)
	s.up()
	t.Cleanup(s.kill)
	return s
}

// up starts the process and waits for the coach's link.
func (s *server) up() {
	bin, err := program()
	require.NoError(s.t, err)
	s.cmd = exec.Command(bin, s.args...)
	s.log = &strings.Builder{}
	s.cmd.Stderr = s.log
	out, err := s.cmd.StdoutPipe()
	require.NoError(s.t, err)
	require.NoError(s.t, s.cmd.Start())
	link := make(chan string, 1)
	go func() { // ends with the process
		sc := bufio.NewScanner(out)
		for sc.Scan() {
			if l := coachLink.FindString(sc.Text()); l != "" {
				link <- l
			}
		}
		close(link)
	}()
	select {
	case l, ok := <-link:
		require.True(s.t, ok, "the server ended: %s", s.log)
		s.coach = l
	case <-time.After(20 * time.Second):
		require.FailNow(s.t, "the server printed no link", "%s", s.log)
	}
}

// kill ends the process at once, as a power cut would.
func (s *server) kill() {
	if s.cmd.Process != nil {
		_ = s.cmd.Process.Kill() // it may have ended already
		_ = s.cmd.Wait()
	}
}

func (s *server) url(fragment string) string { return "http://" + s.addr + "/" + fragment }
