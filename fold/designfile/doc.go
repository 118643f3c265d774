// Package designfile reads design files of format 1 (YAML, hence JSON as well) into a fold.Design, tells every problem
// with its line and column in one run, and prints the JSON Schema of the format.
//
// The format is described once, as Go types with tags in format.go. The reader and the schema both walk that description,
// so that they cannot say different things. It does not know files on disk, geometry beyond building loops, or folding.
//
// Reading order: format (the description), form (what the tags mean), scan and load (bytes to YAML nodes), edit, read and
// readscalar (nodes to the types of format.go), then design, loops, stackups, arms, piles, hinges, postures, bodies, seats,
// sequence, targets, clearance, limits and concessions (those types to the Design).
package designfile
