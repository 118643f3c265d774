package main

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"
)

// TestFilesAreWhatTheProgramMakes demands that the meshes beside the examples are those that this program writes.
func TestFilesAreWhatTheProgramMakes(t *testing.T) {
	files, err := housings()
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range files {
		got, err := os.ReadFile(filepath.Join("..", f.path))
		if err != nil {
			t.Error(err)
		} else if !bytes.Equal(got, f.bytes) {
			t.Errorf("%s is not what the program makes: go run ./examples/housings examples", f.path)
		}
	}
}
