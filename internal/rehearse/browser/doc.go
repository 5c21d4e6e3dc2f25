// Package browser drives a real headless browser for tests and for pictures:
// pages of phone, tablet and wall sizes, fingers and mice, an account of every
// request, and console errors that fail the test unless it expects them.
//
//	b := browser.Start(t)
//	coach := b.Page(t, browser.Tablet)
//	coach.Goto(server.URL)
//	coach.WaitText("live")
//	coach.TouchDrag("[data-spot=C]", 0, -40)
//
// Every page has cookies and storage of its own, as another person's phone
// has. Whatever cannot be done fails the test at once, saying where the page
// stood, so no call returns an error.
//
// It knows the browser and nothing of the product: selectors and texts are the
// caller's. No page can reach a host but this machine.
package browser
