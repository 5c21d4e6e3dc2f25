package browser

import (
	"context"
	"os"
	"path/filepath"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
)

// Screenshot writes a PNG of what the device shows.
func (p *Page) Screenshot(path string) {
	p.t.Helper()
	p.picture(path, page.CaptureScreenshotParams{})
}

// ScreenshotFull writes a PNG of the whole page, however far it scrolls.
func (p *Page) ScreenshotFull(path string) {
	p.t.Helper()
	size := Eval[[]float64](p, "[document.documentElement.scrollWidth, document.documentElement.scrollHeight]")
	beyond := true
	p.picture(path, page.CaptureScreenshotParams{
		CaptureBeyondViewport: &beyond,
		Clip:                  &page.Viewport{Width: size[0], Height: size[1], Scale: 1},
	})
}

func (p *Page) picture(path string, params page.CaptureScreenshotParams) {
	p.t.Helper()
	params.Format = page.CaptureScreenshotFormatPng
	p.do("picture "+path, chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
		shot, err := cdp.Call(ctx, t, page.CaptureScreenshot, params)
		if err != nil {
			return err
		}
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			return err
		}
		return os.WriteFile(path, shot.Data, 0o644)
	}))
}
