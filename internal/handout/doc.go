// Package handout writes the pages that a staff prints: the scout team's card of
// one play, the install page of one call, and pocket cards. Each is one HTML
// document that stands alone, with no script and nothing from elsewhere, laid out
// for A4 and Letter alike, and to be read in black and white. Every sheet carries
// what the drawings are and the cautions.
//
// It draws with strip and decides nothing about football. Nobody's name is on a
// page: men are spots and tags. It is pure.
package handout
