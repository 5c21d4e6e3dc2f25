// Command dev is the one entry for the chores of people who change Halfline:
//
//	go run ./cmd/dev check       everything that must hold before a commit
//	go run ./cmd/dev gen         write all generated files
//	go run ./cmd/dev bench NAME  measure, as a table
//	go run ./cmd/dev help        the rest
//
// It knows which tools the project needs and in which order the checks are
// cheapest; it knows nothing of the product that the tools would not tell it.
//
// Errors are one line on stderr, "dev: WHERE: WHAT: HOW TO MEND". Exit codes:
// 0 done, 1 the answer is no (a check failed), 2 bad input or a missing tool,
// 3 the machine's fault.
package main
