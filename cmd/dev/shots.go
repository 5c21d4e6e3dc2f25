package main

import (
	"context"
	"fmt"
	"path/filepath"
	"slices"

	"halfline/internal/rehearse/browser"
)

// shot is one view of the product in one state. For every size and theme,
// stage brings a fresh product to that state and returns the page to picture.
type shot struct {
	view  string
	state string
	sizes []string // names of sizes; none means all
	stage func(s *studio, device browser.View) *browser.Page
}

// size is a device under the name that stands in the files' names.
type size struct {
	name   string
	device browser.View
}

// sizes are the devices that the product must look right on.
var sizes = []size{
	{"phone", browser.Phone},
	{"phone-small", browser.PhoneSmall},
	{"phone-wide", browser.PhoneWide},
	{"tablet", browser.Tablet},
	{"laptop", browser.Laptop},
	{"wall", browser.Wall},
}

// studio is what a stage works with: a product of its own with nothing in it
// yet, and a browser to open pages in.
type studio struct {
	tb      browser.TB
	browser *browser.Browser
	product *product
}

// page opens a page on a device. A picture shows a state, so nothing moves in
// it.
func (s *studio) page(device browser.View) *browser.Page {
	device.Still = true
	return s.browser.Page(s.tb, device)
}

// runShots pictures every view and state into a folder.
func runShots(ctx context.Context, s *shop, args []string) error {
	if len(args) != 1 {
		return badInput("shots", fmt.Sprintf("needs one folder, got %d arguments", len(args)), "go run ./cmd/dev shots DIR")
	}
	if len(shots) == 0 {
		return no("shots", "no view is listed", "list them in cmd/dev/shotlist.go")
	}
	return s.runSteps(ctx, []step{
		{"tools", s.ensureTools},
		{"shots", func(ctx context.Context) error { return s.takeAll(ctx, args[0], shots) }},
	})
}

// takeAll takes every shot on every size in both themes, with one browser.
func (s *shop) takeAll(ctx context.Context, dir string, list []shot) error {
	binary, remove, err := s.buildProduct(ctx)
	if err != nil {
		return err
	}
	defer remove()
	outer := browser.Outside(func(tb browser.TB) {
		b := browser.Start(tb)
		for _, sh := range list {
			for _, sz := range sizes {
				if len(sh.sizes) > 0 && !slices.Contains(sh.sizes, sz.name) {
					continue
				}
				if err = s.takeThemes(ctx, b, binary, dir, sh, sz); err != nil {
					return
				}
			}
		}
	})
	if outer != nil && err == nil {
		return machine("shots", outer, "see that the browser runs")
	}
	return err
}

func (s *shop) takeThemes(ctx context.Context, b *browser.Browser, binary, dir string, sh shot, sz size) error {
	for _, theme := range []string{"light", "dark"} {
		name := fmt.Sprintf("%s-%s-%s-%s.png", sh.view, sh.state, sz.name, theme)
		device := sz.device
		device.Dark = theme == "dark"
		if err := s.take(ctx, b, binary, filepath.Join(dir, name), sh, device); err != nil {
			return err
		}
		fmt.Fprintf(s.stdout, "     %s\n", name)
	}
	return nil
}

// take pictures one state on one device, from a product started for it alone:
// what one picture leaves behind must not show in the next.
func (s *shop) take(ctx context.Context, b *browser.Browser, binary, file string, sh shot, device browser.View) error {
	p, err := s.startProduct(ctx, binary)
	if err != nil {
		return err
	}
	err = browser.Outside(func(tb browser.TB) {
		sh.stage(&studio{tb: tb, browser: b, product: p}, device).Screenshot(file)
	})
	stopErr := p.stop()
	switch {
	case err != nil:
		return no("shots", filepath.Base(file)+": "+err.Error(), "mend the view, or its stage in cmd/dev/shotlist.go")
	case stopErr != nil:
		return machine("shots", stopErr, "mend how the server ends")
	}
	return nil
}
