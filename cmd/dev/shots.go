package main

import (
	"context"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"halfline/internal/rehearse/browser"
)

// shot is one view of the product in one state. For every size, stage brings a
// fresh product to that state and returns the page to picture, which is then
// pictured in every theme.
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
	pages   []*browser.Page // all that were opened
}

// page opens a page on a device. A picture shows a state, so nothing moves in
// it.
func (s *studio) page(device browser.View) *browser.Page {
	device.Still = true
	p := s.browser.Page(s.tb, device)
	s.pages = append(s.pages, p)
	return p
}

const shotsUsage = "go run ./cmd/dev shots DIR [VIEW-STATE...]"

// chosen are the shots whose view-state begins with one of the given texts; all
// if none is given.
func chosen(list []shot, begins []string) []shot {
	if len(begins) == 0 {
		return list
	}
	return slices.DeleteFunc(slices.Clone(list), func(sh shot) bool {
		return !slices.ContainsFunc(begins, func(b string) bool { return strings.HasPrefix(sh.view+"-"+sh.state, b) })
	})
}

// runShots pictures every view and state into a folder, or those named.
func runShots(ctx context.Context, s *shop, args []string) error {
	if len(args) == 0 {
		return badInput("shots", "needs a folder", shotsUsage)
	}
	list := chosen(shots, args[1:])
	if len(list) == 0 {
		return badInput("shots", "no view and state begins with "+strings.Join(args[1:], " or "), shotsUsage)
	}
	return s.runSteps(ctx, []step{
		{"tools", s.ensureTools},
		{"shots", func(ctx context.Context) error { return s.takeAll(ctx, args[0], list) }},
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
				if err = s.take(ctx, b, binary, dir, sh, sz); err != nil {
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

// take pictures one state on one device, from a product started for it alone:
// what one state leaves behind must not show in the next. Both themes show the
// same state, so they are compared alike and cost one stage.
func (s *shop) take(ctx context.Context, b *browser.Browser, binary, dir string, sh shot, sz size) error {
	p, err := s.startProduct(ctx, binary)
	if err != nil {
		return err
	}
	name := fmt.Sprintf("%s-%s-%s", sh.view, sh.state, sz.name)
	err = browser.Outside(func(tb browser.TB) {
		page := sh.stage(&studio{tb: tb, browser: b, product: p}, sz.device)
		for _, theme := range []string{"light", "dark"} {
			device := sz.device
			device.Still, device.Dark = true, theme == "dark"
			page.Resize(device)
			file := fmt.Sprintf("%s-%s.png", name, theme)
			page.Screenshot(filepath.Join(dir, file))
			fmt.Fprintf(s.stdout, "     %s\n", file)
		}
	})
	stopErr := p.stop()
	switch {
	case err != nil:
		return no("shots", name+": "+err.Error(), "mend the view, or its stage in cmd/dev/shotlist.go")
	case stopErr != nil:
		return machine("shots", stopErr, "mend how the server ends")
	}
	return nil
}
