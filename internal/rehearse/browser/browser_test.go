package browser_test

import (
	"fmt"
	"image/png"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"go.uber.org/goleak"

	"halfline/internal/rehearse/browser"
)

func TestMain(m *testing.M) { goleak.VerifyTestMain(withBrowser{m}) }

// b is the one browser of these tests; each opens pages of its own in it.
var b *browser.Browser

// withBrowser opens the browser before the tests and closes it before leaks
// are looked for.
type withBrowser struct{ m *testing.M }

func (w withBrowser) Run() int {
	code := 1
	failures := watch(func(tb browser.TB) {
		b = browser.Start(tb)
		code = w.m.Run()
	})
	for _, failure := range failures {
		fmt.Fprintln(os.Stderr, failure)
		code = 1
	}
	return code
}

const board = `<!doctype html><html lang="en"><head><title>Board</title>
<meta name="viewport" content="width=device-width, initial-scale=1">
<link rel="icon" href="data:,">
<style>
body { margin: 0; background: #fff; height: 3000px }
@media (prefers-color-scheme: dark) { body { background: #000 } }
svg { touch-action: none; width: 300px; height: 300px; display: block }
#cover { position: absolute; left: 0; top: 310px; width: 100px; height: 40px; background: #ccc }
</style></head><body>
<svg viewBox="0 0 300 300" role="img" aria-label="board"><circle id="man" cx="50" cy="60" r="20"/></svg>
<button id="under">under</button><div id="cover"></div>
<button id="go" style="position:absolute;top:2500px">Go</button>
<label>Name <input id="name" value="old"></label>
<p id="said">nothing</p>
<script>
window.heard = [];
const man = document.getElementById("man");
for (const kind of ["pointerdown", "pointermove", "pointerup", "pointercancel"]) {
  addEventListener(kind, e => heard.push(kind + ":" + e.pointerType));
}
let from = null;
man.addEventListener("pointerdown", e => { from = e; man.setPointerCapture(e.pointerId); });
man.addEventListener("pointermove", e => {
  if (!from) return;
  man.setAttribute("cx", 50 + e.clientX - from.clientX);
  man.setAttribute("cy", 60 + e.clientY - from.clientY);
});
man.addEventListener("pointerup", () => { from = null; });
document.getElementById("go").addEventListener("click", () => { document.getElementById("said").textContent = "went"; });
addEventListener("keydown", e => heard.push("key:" + (e.shiftKey ? "Shift+" : "") + e.key));
</script></body></html>`

// serve answers with the board, and with a few places where things go wrong.
func serve(t *testing.T) *httptest.Server {
	t.Helper()
	mux := http.NewServeMux()
	mux.HandleFunc("GET /{$}", func(w http.ResponseWriter, _ *http.Request) { fmt.Fprint(w, board) })
	mux.HandleFunc("GET /empty", func(w http.ResponseWriter, _ *http.Request) {
		fmt.Fprint(w, `<!doctype html><title>e</title><link rel="icon" href="data:,">empty`)
	})
	mux.HandleFunc("GET /big", func(w http.ResponseWriter, _ *http.Request) { fmt.Fprint(w, strings.Repeat("x", 50000)) })
	server := httptest.NewServer(mux)
	t.Cleanup(server.Close)
	return server
}

func open(t *testing.T, v browser.View) (*browser.Page, *httptest.Server) {
	t.Helper()
	server := serve(t)
	p := b.Page(t, v)
	p.Goto(server.URL)
	return p, server
}

func TestPageIsTheDevicesOwn(t *testing.T) {
	server := serve(t)
	for name, c := range map[string]struct {
		view  browser.View
		touch bool
		back  string
	}{
		"phone":       {browser.Phone, true, "rgb(255, 255, 255)"},
		"wide phone":  {browser.PhoneWide, true, "rgb(255, 255, 255)"},
		"dark laptop": {browser.View{W: 1366, H: 768, Dark: true}, false, "rgb(0, 0, 0)"},
	} {
		t.Run(name, func(t *testing.T) {
			p := b.Page(t, c.view)
			p.Goto(server.URL)
			assert.Equal(t, []int64{c.view.W, c.view.H}, browser.Eval[[]int64](p, "[innerWidth, innerHeight]"))
			assert.Equal(t, c.touch, browser.Eval[bool](p, "navigator.maxTouchPoints === 5"))
			assert.Equal(t, c.back, browser.Eval[string](p, "getComputedStyle(document.body).backgroundColor"))
		})
	}
}

func TestPagesShareNothing(t *testing.T) {
	server := serve(t)
	one, two := b.Page(t, browser.Phone), b.Page(t, browser.Phone)
	one.Goto(server.URL)
	two.Goto(server.URL)
	browser.Eval[browser.Nothing](one, `localStorage.setItem("a", "1"); document.cookie = "a=1"`)
	assert.Equal(t, "/", browser.Eval[string](two, `(localStorage.getItem("a") ?? "") + "/" + document.cookie`))
	one.Reload()
	assert.Equal(t, "1/a=1", browser.Eval[string](one, `localStorage.getItem("a") + "/" + document.cookie`))
}

func TestLANHostIsNoSecureContext(t *testing.T) {
	server := serve(t)
	p := b.Page(t, browser.Phone)
	p.Goto(strings.Replace(server.URL, "127.0.0.1", browser.LANHost, 1))
	assert.False(t, browser.Eval[bool](p, "isSecureContext"))
	p.Goto(server.URL)
	assert.True(t, browser.Eval[bool](p, "isSecureContext"))
}

func place(p *browser.Page) string {
	return browser.Eval[string](p, `document.getElementById("man").getAttribute("cx") + "," + document.getElementById("man").getAttribute("cy")`)
}

func TestTouchDragMovesTheMan(t *testing.T) {
	p, _ := open(t, browser.Tablet)
	p.TouchDrag("#man", 120, 48)
	assert.Equal(t, "170,108", place(p))
	heard := strings.Join(browser.Eval[[]string](p, "heard"), " ")
	assert.Contains(t, heard, "pointerdown:touch pointermove:touch")
	assert.True(t, strings.HasSuffix(heard, "pointerup:touch"), heard)
	assert.NotContains(t, heard, "pointercancel")
}

func TestMouseDragMovesTheMan(t *testing.T) {
	p, _ := open(t, browser.Laptop)
	p.MouseDrag("#man", -24, 60)
	assert.Equal(t, "26,120", place(p))
	assert.Contains(t, strings.Join(browser.Eval[[]string](p, "heard"), " "), "pointerdown:mouse")
}

func TestFingerCanStayAndBeTakenAway(t *testing.T) {
	p, _ := open(t, browser.Phone)
	finger := p.Touch("#man")
	finger.Move(30, 0)
	p.WaitFor(`document.getElementById("man").getAttribute("cx") === "80"`)
	assert.NotContains(t, browser.Eval[[]string](p, "heard"), "pointerup:touch")
	finger.Cancel()
	p.WaitFor(`heard.includes("pointercancel:touch")`)
}

func TestClickAndTapReachWhatIsFarDown(t *testing.T) {
	for name, v := range map[string]browser.View{"click": browser.Laptop, "tap": browser.Phone} {
		t.Run(name, func(t *testing.T) {
			p, _ := open(t, v)
			assert.Equal(t, "nothing", p.Text("#said"))
			if v.Touch {
				p.Tap("#go")
			} else {
				p.Click("#go")
			}
			p.WaitText("went")
		})
	}
}

func TestKeysAndTextArrive(t *testing.T) {
	p, _ := open(t, browser.Laptop)
	p.Fill("#name", "Nickel, left")
	assert.Equal(t, "Nickel, left", browser.Eval[string](p, `document.getElementById("name").value`))
	for _, key := range []string{"ArrowLeft", "Shift+Tab", "a", "Escape"} {
		p.Key(key)
	}
	assert.Equal(t, []string{"key:ArrowLeft", "key:Shift+Tab", "key:a", "key:Escape"},
		browser.Eval[[]string](p, `heard.filter(h => h.startsWith("key:"))`))
}

func TestRequestsAreCountedAndStrangersFound(t *testing.T) {
	p, server := open(t, browser.Phone)
	browser.Eval[int](p, `fetch("/big").then(r => r.text()).then(s => s.length)`)
	p.WaitFor("true")
	assert.Empty(t, p.Strangers(server.URL))
	requests := p.Requests()
	require.Len(t, requests, 2)
	assert.Equal(t, "Document", requests[0].Kind)
	assert.Equal(t, server.URL+"/big", requests[1].URL)
	assert.Equal(t, int64(200), requests[1].Status)
	assert.Greater(t, requests[1].Bytes, int64(50000))

	p.AllowErrors("stranger.example")
	assert.True(t, browser.Eval[bool](p, `fetch("http://stranger.example/x").then(() => false, () => true)`), "a page reached a host outside")
	assert.Equal(t, []string{"http://stranger.example/x"}, p.Strangers(server.URL))
}

func TestScreenshotHasTheDevicesPixels(t *testing.T) {
	p, _ := open(t, browser.View{W: 320, H: 100, Scale: 2})
	for name, height := range map[string]int{"view": 200, "full": 6000} {
		path := filepath.Join(t.TempDir(), "deep", name+".png")
		if name == "view" {
			p.Screenshot(path)
		} else {
			p.ScreenshotFull(path)
		}
		file, err := os.Open(path)
		require.NoError(t, err)
		shot, err := png.DecodeConfig(file)
		require.NoError(t, file.Close())
		require.NoError(t, err)
		assert.Equal(t, 640, shot.Width, name)
		assert.Equal(t, height, shot.Height, name)
	}
}

func TestFrozenPageHearsOfIt(t *testing.T) {
	p, _ := open(t, browser.Phone)
	browser.Eval[browser.Nothing](p, `for (const kind of ["freeze", "resume"]) document.addEventListener(kind, () => heard.push(kind))`)
	p.Freeze()
	p.Thaw()
	p.WaitFor(`heard.join().includes("freeze,resume")`)
}

func TestMetricsCountLayouts(t *testing.T) {
	p, _ := open(t, browser.Phone)
	before := p.Metrics()["LayoutCount"]
	browser.Eval[float64](p, `(() => { document.getElementById("said").textContent = "a longer text"; return document.body.offsetHeight; })()`)
	assert.Greater(t, p.Metrics()["LayoutCount"], before)
}

func TestAccessibilityRulesAreRun(t *testing.T) {
	p, _ := open(t, browser.Laptop)
	script := filepath.Join("..", "..", "..", "client", "node_modules", "axe-core", "axe.min.js")
	browser.Eval[browser.Nothing](p, `document.querySelector("label").replaceWith(document.getElementById("name"))`)
	assert.Contains(t, strings.Join(p.Violations(script), "\n"), "label: ")
}

// watch runs body as a test of its own to its end and returns what it failed
// with.
func watch(body func(browser.TB)) []string {
	var texts []string
	if err := browser.Outside(body); err != nil {
		joined, ok := err.(interface{ Unwrap() []error })
		if !ok {
			return []string{err.Error()}
		}
		for _, failure := range joined.Unwrap() {
			texts = append(texts, failure.Error())
		}
	}
	return texts
}

func TestConsoleErrorsFailTheTestUnlessAllowed(t *testing.T) {
	server := serve(t)
	speak := func(allow ...string) []string {
		return watch(func(tb browser.TB) {
			p := b.Page(tb, browser.Phone)
			p.AllowErrors(allow...)
			p.Goto(server.URL + "/empty")
			browser.Eval[browser.Nothing](p, `console.error("first thing", 7); console.log("fine"); setTimeout(() => { throw new Error("second thing"); })`)
			browser.Eval[int](p, `fetch("/third").then(r => r.status)`)
			assert.Eventually(t, func() bool { return len(p.ConsoleErrors()) == 3 }, 10*time.Second, 10*time.Millisecond)
		})
	}
	failures := strings.Join(speak(), "\n")
	assert.Contains(t, failures, "browser: console: first thing 7")
	assert.Contains(t, failures, "second thing")
	assert.Contains(t, failures, "404")
	assert.NotContains(t, failures, "fine")
	assert.Len(t, speak("first thing"), 2)
	assert.Empty(t, speak("first thing", "second thing", "/third"))
}

func TestFailuresSayWhereThePageStood(t *testing.T) {
	server := serve(t)
	for name, c := range map[string]struct {
		act  func(*browser.Page)
		want []string
	}{
		"a wrong address": {func(p *browser.Page) { p.Goto("http://127.0.0.1:1/") }, []string{"open http://127.0.0.1:1/", "ERR_"}},
		"a bad expression": {func(p *browser.Page) { browser.Eval[int](p, "nothing.at.all") },
			[]string{"evaluate nothing.at.all", "not defined", "/empty", "empty"}},
		"an unknown key": {func(p *browser.Page) { p.Key("Hyper+a") }, []string{`no modifier "Hyper"`}},
	} {
		t.Run(name, func(t *testing.T) {
			failures := watch(func(tb browser.TB) {
				p := b.Page(tb, browser.Phone)
				p.Goto(server.URL + "/empty")
				c.act(p)
			})
			require.Len(t, failures, 1)
			for _, want := range c.want {
				assert.Contains(t, failures[0], want)
			}
		})
	}
}

func TestCoveredElementIsNotClicked(t *testing.T) {
	server := serve(t)
	failures := watch(func(tb browser.TB) {
		p := b.Page(tb, browser.Laptop).WithPatience(2 * time.Second)
		p.Goto(server.URL)
		p.Click("#under")
	})
	require.Len(t, failures, 1)
	assert.Contains(t, failures[0], "covered by <div id=\"cover\">")
}

func TestMissingBrowserIsNamedWithItsPackage(t *testing.T) {
	t.Setenv("PATH", t.TempDir())
	failures := watch(func(tb browser.TB) { browser.Start(tb) })
	require.Len(t, failures, 1)
	assert.Contains(t, failures[0], "apt-get install -y --no-install-recommends chromium")
}
