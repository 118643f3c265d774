// Command foldfit answers for a rigid-flex board, from one file: does it fold, does it fit?
//
// It is the only place that opens files and prints. Each command has a file of its own; run.go holds the way from a design
// to its results, which all of them share.
package main
