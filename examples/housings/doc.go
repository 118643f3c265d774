// Command housings makes the housing meshes of the examples: the tray of the pocket logger and the shade and stand of the
// lamp. It writes them into the folders of the examples:
//
//	go run ./examples/housings examples
//
// All dimensions are our own.
package main
