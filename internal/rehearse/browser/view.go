package browser

import (
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
)

// View is the device that a page is seen on.
type View struct {
	W, H   int64   // CSS pixels
	Scale  float64 // device pixels per CSS pixel; 0 counts as 1
	Touch  bool    // fingers instead of a mouse
	Mobile bool    // lays the page out as phones do, by its viewport tag
	Dark   bool    // the person prefers a dark theme
	Still  bool    // the person prefers no motion
}

// The devices of a practice.
var (
	PhoneSmall = View{W: 360, H: 640, Scale: 3, Touch: true, Mobile: true}
	Phone      = View{W: 390, H: 844, Scale: 3, Touch: true, Mobile: true}
	PhoneWide  = View{W: 844, H: 390, Scale: 3, Touch: true, Mobile: true}
	Tablet     = View{W: 820, H: 1180, Scale: 2, Touch: true, Mobile: true}
	Laptop     = View{W: 1366, H: 768, Scale: 1}
	Wall       = View{W: 1920, H: 1080, Scale: 1}
)

// fingers is how many touches at once a device reports it can tell apart.
const fingers = 5

// emulate are the commands that make a page that of the device.
func (v View) emulate() []chromedp.Action[chromedp.Void] {
	if v.Scale == 0 {
		v.Scale = 1
	}
	orientation := &emulation.ScreenOrientation{Type: emulation.ScreenOrientationTypePortraitPrimary}
	if v.W > v.H {
		orientation = &emulation.ScreenOrientation{Type: emulation.ScreenOrientationTypeLandscapePrimary, Angle: 90}
	}
	scheme, motion := "light", "no-preference"
	if v.Dark {
		scheme = "dark"
	}
	if v.Still {
		motion = "reduce"
	}
	touch := emulation.SetTouchEmulationEnabledParams{Enabled: v.Touch}
	if v.Touch {
		touch.MaxTouchPoints = fingers
	}
	return []chromedp.Action[chromedp.Void]{
		command(emulation.SetDeviceMetricsOverride, emulation.SetDeviceMetricsOverrideParams{
			Width: v.W, Height: v.H, DeviceScaleFactor: v.Scale, Mobile: v.Mobile, ScreenOrientation: orientation,
		}),
		command(emulation.SetTouchEmulationEnabled, touch),
		command(emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Features: []*emulation.MediaFeature{
			{Name: "prefers-color-scheme", Value: scheme},
			{Name: "prefers-reduced-motion", Value: motion},
		}}),
	}
}
