package main

import (
	"errors"
	"fmt"
)

// Exit codes, the same as the product's.
const (
	exitDone    = 0
	exitNo      = 1 // the chore ran and its answer is no
	exitInput   = 2 // bad input, or a tool that the reader must install
	exitMachine = 3 // the machine's fault
)

// problem is an error fit for a person: where, what, how to mend.
type problem struct {
	exit  int
	where string
	what  string
	mend  string
}

func (p *problem) Error() string {
	return fmt.Sprintf("%s: %s: %s", p.where, p.what, p.mend)
}

// exitCode is the code that an error ends the program with; an error that
// names no other is the machine's fault.
func exitCode(err error) int {
	var p *problem
	switch {
	case err == nil:
		return exitDone
	case errors.As(err, &p):
		return p.exit
	default:
		return exitMachine
	}
}

// no says that a check's answer is no.
func no(where, what, mend string) error {
	return &problem{exit: exitNo, where: where, what: what, mend: mend}
}

// badInput says that the chore was asked for something it cannot do.
func badInput(where, what, mend string) error {
	return &problem{exit: exitInput, where: where, what: what, mend: mend}
}

// machine says that the machine let the chore down.
func machine(where string, err error, mend string) error {
	return &problem{exit: exitMachine, where: where, what: err.Error(), mend: mend}
}
