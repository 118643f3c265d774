package main

import (
	"errors"
	"fmt"
	"io/fs"
	"math/rand/v2"
	"os"
	"path"
	"path/filepath"
	"slices"
)

// install puts a build's files into a folder. A new folder appears at once and whole. In a folder of an earlier build only
// files of that build are replaced, one by one and each whole; its files that this build does not have are removed if nobody
// changed them. A folder with anything else in the way is left as it is.
func install(folder string, files []output) error {
	entries, err := os.ReadDir(folder)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return installNew(folder, files)
	case err != nil:
		return cannotWrite(folder, err)
	}
	root, err := os.OpenRoot(folder)
	if err != nil {
		return cannotWrite(folder, err)
	}
	defer root.Close()
	old := map[string]string{}
	if len(entries) > 0 {
		if old, err = earlier(root); err != nil {
			return foreign(folder, err.Error())
		}
	}
	return installOver(root, folder, old, files)
}

// installNew writes a folder beside its place and renames it.
func installNew(folder string, files []output) (err error) {
	parent := filepath.Dir(folder)
	if err := os.MkdirAll(parent, 0o777); err != nil {
		return cannotWrite(folder, err)
	}
	temp := beside(folder)
	if err := os.Mkdir(temp, 0o777); err != nil {
		return cannotWrite(folder, err)
	}
	done := false
	defer func() {
		if !done {
			os.RemoveAll(temp)
		}
	}()
	root, err := os.OpenRoot(temp)
	if err != nil {
		return cannotWrite(folder, err)
	}
	defer root.Close()
	for _, f := range files {
		if err := put(root, f.path, f.data); err != nil {
			return cannotWrite(filepath.Join(folder, f.path), err)
		}
	}
	if err := os.Rename(temp, folder); err != nil {
		return cannotWrite(folder, err)
	}
	done = true
	return nil
}

// put writes a new file below root, with the folders above it.
func put(root *os.Root, name string, data []byte) error {
	if err := root.MkdirAll(path.Dir(name), 0o777); err != nil {
		return err
	}
	f, err := root.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
	if err != nil {
		return err
	}
	_, err = f.Write(data)
	return errors.Join(err, f.Close())
}

// earlier returns the files of the build that a folder holds, with their hashes.
func earlier(root *os.Root) (map[string]string, error) {
	data, err := root.ReadFile(manifestName)
	if err != nil {
		return nil, errors.New("it is not empty and holds no build of foldfit")
	}
	return readManifest(data)
}

// installOver replaces the files of an earlier build in the folder, after a look whether anything else is in the way.
func installOver(root *os.Root, folder string, old map[string]string, files []output) error {
	for _, f := range files {
		if _, ours := old[f.path]; ours {
			continue
		}
		if there, err := root.ReadFile(f.path); !errors.Is(err, fs.ErrNotExist) && (err != nil || sum(there) != sum(f.data)) {
			return foreign(folder, f.path+" is in the way and was not written by foldfit")
		}
	}
	for _, f := range files {
		if err := swap(root, f); err != nil {
			return cannotWrite(filepath.Join(folder, f.path), err)
		}
	}
	sweep(root, old, files)
	return nil
}

// swap writes a file beside its place and renames it.
func swap(root *os.Root, f output) error {
	temp := fmt.Sprintf("%s.%08x.part", f.path, rand.Uint32())
	if err := put(root, temp, f.data); err != nil {
		return err
	}
	if err := root.Rename(temp, f.path); err != nil {
		root.Remove(temp)
		return err
	}
	return nil
}

// sweep removes files of the earlier build that this one does not have, if they are as that build left them.
func sweep(root *os.Root, old map[string]string, files []output) {
	for name, hash := range old {
		if slices.ContainsFunc(files, func(f output) bool { return f.path == name }) {
			continue
		}
		if data, err := root.ReadFile(name); err == nil && sum(data) == hash {
			root.Remove(name)
			if dir := path.Dir(name); dir != "." {
				root.Remove(dir) // works only if that left it empty
			}
		}
	}
}

// foreign refuses a folder that is not ours to write.
func foreign(folder, why string) error {
	return &usage{fmt.Sprintf("%s was left alone: %s", folder, why), "name another folder with -o DIR"}
}
