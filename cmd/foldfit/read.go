package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"foldfit/fold/finding"
)

// Sizes beyond which an input is not read at all.
const (
	mostDesign = 10 << 20
	mostMesh   = 512 << 20
)

// stdinName stands for stdin in messages.
const stdinName = "stdin"

// readDesign reads the design file; "-" is stdin.
func readDesign(c console, path string) (input, error) {
	if path == "-" {
		data, err := readAtMost(c.in, 0, mostDesign)
		return input{path: stdinName, data: data, size: len(data)}, designError(stdinName, err)
	}
	in, err := readFile(path, mostDesign)
	in.path = filepath.ToSlash(path)
	return in, designError(in.path, err)
}

// designError says why a design cannot be read: a problem of the file, or of the call.
func designError(name string, err error) error {
	var big *tooBig
	switch {
	case err == nil:
		return nil
	case errors.As(err, &big):
		place := finding.Place{File: name, Line: 1, Column: 1}
		return &unusable{name: name, problems: []finding.Problem{{Place: place, What: big.Error()}}}
	}
	return &usage{fmt.Sprintf("%s: %v", name, err), ""}
}

// readBeside reads a file that a design names, relative to the design's folder. Unless outside is allowed the file must lie
// in that folder, also after following links.
func readBeside(folder, name string, allowOutside bool, most int64) (input, error) {
	path := filepath.FromSlash(name)
	if !filepath.IsAbs(path) {
		path = filepath.Join(folder, path)
	}
	if !allowOutside {
		if err := staysInside(folder, path); err != nil {
			return input{}, fmt.Errorf("%s: %w", name, err)
		}
	}
	if info, err := os.Stat(path); err == nil && !info.Mode().IsRegular() {
		return input{}, fmt.Errorf("%s: not a file", name)
	}
	in, err := readFile(path, most)
	in.path, in.named = name, true
	if err != nil {
		return in, fmt.Errorf("%s: %w", name, err)
	}
	return in, nil
}

// staysInside returns an error when path, links followed, leaves the folder.
func staysInside(folder, path string) error {
	root, err := filepath.EvalSymlinks(folder)
	if err != nil {
		return plainError(err)
	}
	real, err := filepath.EvalSymlinks(path)
	if err != nil {
		return plainError(err)
	}
	root, err = filepath.Abs(root)
	if err == nil {
		real, err = filepath.Abs(real)
	}
	if err != nil {
		return err
	}
	rel, err := filepath.Rel(root, real)
	if err != nil || rel == ".." || strings.HasPrefix(rel, ".."+string(filepath.Separator)) {
		return errors.New("lies outside the design's folder; --allow-outside lets it")
	}
	return nil
}

// tooBig is an input over its size limit.
type tooBig struct{ most int64 }

func (e *tooBig) Error() string {
	return fmt.Sprintf("the file is larger than %d MB, the most that is read", e.most>>20)
}

// readFile reads a file of at most most bytes.
func readFile(path string, most int64) (input, error) {
	f, err := os.Open(path)
	if err != nil {
		return input{}, plainError(err)
	}
	defer f.Close()
	size := int64(0)
	if info, err := f.Stat(); err == nil {
		switch {
		case info.IsDir():
			return input{}, errors.New("is a folder, not a file")
		case info.Mode().IsRegular() && info.Size() > most:
			return input{}, &tooBig{most}
		}
		size = info.Size()
	}
	data, err := readAtMost(f, size, most)
	return input{file: path, data: data, size: len(data)}, err
}

// readAtMost reads all of r, which must not hold more than most bytes; likely is how many there seem to be.
func readAtMost(r io.Reader, likely, most int64) ([]byte, error) {
	buf := bytes.NewBuffer(make([]byte, 0, int(min(likely, most))+bytes.MinRead))
	_, err := buf.ReadFrom(io.LimitReader(r, most+1))
	data := buf.Bytes()
	switch {
	case err != nil:
		return nil, plainError(err)
	case int64(len(data)) > most:
		return nil, &tooBig{most}
	}
	return data, nil
}

// plainError drops the operation and the path from a file error: the caller names the file in the user's words.
func plainError(err error) error {
	var path *fs.PathError
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return errors.New("there is no such file")
	case errors.Is(err, fs.ErrPermission):
		return errors.New("may not be read (permission)")
	case errors.As(err, &path):
		return path.Err
	}
	return err
}
