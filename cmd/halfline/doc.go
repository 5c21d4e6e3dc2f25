// Command halfline is the one binary: the server and the commands that work on
// files. It wires packages together and decides nothing itself.
package main
