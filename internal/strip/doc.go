// Package strip draws a rep as a film strip: one SVG document of five to eight
// panels, each the half of the field that the rep is about at one moment, to
// print or to show. It decides nothing about football: what happened, and why,
// the track says.
//
// The document stands alone: no scripts, no fonts, no pictures from elsewhere.
// Meaning hangs on shape and word first, so that it survives black and white.
// It is pure, and the strip of a mirrored rep is the mirrored strip.
package strip
