package main

import (
	"fmt"
	"os"
	"path/filepath"
)

// source is where the hand-written boards lie.
const source = "testdata/corpus"

func main() {
	folder := source
	if len(os.Args) > 1 {
		folder = os.Args[1]
	}
	files, err := made()
	for _, f := range files {
		path := filepath.Join(folder, f.path)
		if err == nil {
			err = os.MkdirAll(filepath.Dir(path), 0o777)
		}
		if err == nil {
			err = os.WriteFile(path, f.bytes, 0o666)
		}
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, "make:", err)
		os.Exit(1)
	}
}

// file is one file of the corpus.
type file struct {
	path  string
	bytes []byte
}

// made returns all files that this program makes.
func made() ([]file, error) {
	out := hubs()
	meshes, err := meshes()
	if err != nil {
		return nil, err
	}
	out = append(out, meshes...)
	text := map[string]string{} // good boards by name
	for _, f := range out {
		text[f.path] = string(f.bytes)
	}
	paths, err := filepath.Glob(filepath.Join(source, "good", "*.yaml"))
	if err != nil {
		return nil, err
	}
	for _, p := range paths {
		b, err := os.ReadFile(p)
		if err != nil {
			return nil, err
		}
		if name := "good/" + filepath.Base(p); text[name] == "" {
			text[name] = string(b)
		}
	}
	twins, err := allTwins(text)
	return append(out, twins...), err
}
