// Package book reads what a staff keeps in files: books (looks, calls, plays,
// athletes, people) and scenes (one moment, for `halfline check`). Every
// mistake is reported with line and column, what was found and what would be
// accepted; nothing is half-loaded and nothing is guessed.
//
// It decides nothing about football: what the words mean is the business of
// look, play, call and athlete. A staff's book starts from the built-in one;
// its own entries come on top.
package book
