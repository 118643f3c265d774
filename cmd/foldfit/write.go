package main

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"math/rand/v2"
	"os"
	"path/filepath"
)

// writer writes one result.
type writer func(io.Writer) error

// deliver writes a result to the named file, or to stdout for "-" and "". A file appears whole or not at all: it is
// written beside its place and then renamed. An input of the same run is never replaced.
func deliver(c console, path string, inputs []input, write writer) error {
	if path == "" || path == "-" {
		return toStream(c.out, write)
	}
	path, err := target(path)
	if err != nil {
		return err
	}
	info, err := os.Stat(path)
	switch {
	case err == nil && info.IsDir():
		return &usage{path + " is a folder", "name a file with -o"}
	case err == nil && !info.Mode().IsRegular():
		return toDevice(path, write)
	case err == nil && isInput(info, inputs):
		return &usage{path + " is an input of this run and was left alone", "name another file with -o"}
	}
	return replace(path, info, write)
}

// target follows a link, so that the file behind it is replaced and not the link.
func target(path string) (string, error) {
	real, err := filepath.EvalSymlinks(path)
	switch {
	case err == nil:
		return real, nil
	case errors.Is(err, fs.ErrNotExist):
		return path, nil
	}
	return "", cannotWrite(path, err)
}

// isInput reports whether a file is one of those the run has read.
func isInput(info fs.FileInfo, inputs []input) bool {
	for _, in := range inputs {
		if other, err := os.Stat(in.file); err == nil && os.SameFile(info, other) {
			return true
		}
	}
	return false
}

// replace writes a new file beside path and renames it; old is the file that stands there, if any.
func replace(path string, old fs.FileInfo, write writer) (err error) {
	mode := fs.FileMode(0o666)
	if old != nil {
		mode = old.Mode().Perm()
	}
	name := beside(path)
	f, err := os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, mode)
	if err != nil {
		return cannotWrite(path, err)
	}
	done := false
	defer func() {
		if !done {
			f.Close()
			os.Remove(name)
		}
	}()
	if err := toStream(f, write); err != nil {
		return err
	}
	if err := f.Close(); err != nil {
		return cannotWrite(path, err)
	}
	if err := os.Rename(name, path); err != nil {
		return cannotWrite(path, err)
	}
	done = true
	return nil
}

// beside returns a free name in the same folder as path.
func beside(path string) string {
	return filepath.Join(filepath.Dir(path), fmt.Sprintf(".%s.%08x.part", filepath.Base(path), rand.Uint32()))
}

// toDevice writes into what is not a file, such as a pipe.
func toDevice(path string, write writer) error {
	f, err := os.OpenFile(path, os.O_WRONLY, 0)
	if err != nil {
		return cannotWrite(path, err)
	}
	if err := toStream(f, write); err != nil {
		f.Close()
		return err
	}
	return f.Close()
}

// toStream writes through a buffer. An error of the result itself, not of the stream, is a defect.
func toStream(w io.Writer, write writer) error {
	spy := &streamSpy{w: w}
	out := bufio.NewWriterSize(spy, 1<<16)
	err := write(out)
	if err == nil {
		err = out.Flush()
	}
	switch {
	case spy.err != nil:
		return fmt.Errorf("cannot write the result: %w", plainError(spy.err))
	case err != nil:
		return &defect{err}
	}
	return nil
}

// streamSpy remembers the first error of the stream below.
type streamSpy struct {
	w   io.Writer
	err error
}

func (s *streamSpy) Write(p []byte) (int, error) {
	n, err := s.w.Write(p)
	if s.err == nil {
		s.err = err
	}
	return n, err
}

// cannotWrite names the file that could not be written.
func cannotWrite(path string, err error) error {
	var p *fs.PathError
	var l *os.LinkError
	switch {
	case errors.Is(err, fs.ErrNotExist):
		err = errors.New("there is no such folder")
	case errors.As(err, &p):
		err = p.Err
	case errors.As(err, &l):
		err = l.Err
	}
	return fmt.Errorf("cannot write %s: %w", path, err)
}
