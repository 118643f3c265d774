// Command make writes the part of the corpus that is better computed than typed: star hubs with rounded numbers, housing
// meshes, and the bad and borderline twins of good boards.
//
//	go run ./testdata/corpus/make [FOLDER]
//
// FOLDER is testdata/corpus if left out; good boards that were written by hand are read from testdata/corpus/good. All
// sizes are our own.
package main
