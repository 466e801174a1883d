// Package plans finds plans in a directory tree and reads their files: what is
// a plan, what is only stock, where nothing is looked for. The commands and the
// language server both go by it. A tree is whatever an fs.FS shows: the working
// tree, the index of a repository, a test's map; its links do not lead out of it.
package plans

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"iter"
	"path"
	"strings"

	"ohmstead/schema/source"
)

// Suffix is what the names of plan files end in.
const Suffix = ".ohm.hcl"

// Skipped reports whether a directory of that name, or anything below it, holds
// no plans of anybody's: node_modules, and names that begin with a dot.
func Skipped(name string) bool {
	return name == "node_modules" || len(name) > 1 && name != ".." && strings.HasPrefix(name, ".")
}

// Walk visits a directory and those below it that are not skipped, each with
// the paths of its plan files. Links to directories are not followed: what they
// lead to inside of the tree is found where it is. What cannot be listed is
// told to failed, and the rest goes on.
func Walk(tree fs.FS, top string, failed func(error)) iter.Seq2[string, []string] {
	return func(yield func(string, []string) bool) { walk(tree, top, failed, yield) }
}

func walk(tree fs.FS, dir string, failed func(error), yield func(string, []string) bool) bool {
	names, below, err := list(tree, dir)
	if err != nil {
		failed(err)
	}
	if !yield(dir, names) {
		return false
	}
	for _, d := range below {
		if !Skipped(path.Base(d)) && !walk(tree, d, failed, yield) {
			return false
		}
	}
	return true
}

// Names lists the plan files of a directory by path; empty when it has none.
func Names(tree fs.FS, dir string) ([]string, error) {
	names, _, err := list(tree, dir)
	return names, err
}

func list(tree fs.FS, dir string) (names, below []string, err error) {
	entries, err := fs.ReadDir(tree, dir)
	for _, e := range entries {
		switch name := path.Join(dir, e.Name()); {
		case e.IsDir():
			below = append(below, name)
		case strings.HasSuffix(name, Suffix):
			names = append(names, name)
		}
	}
	return names, below, plain(err)
}

// Stat looks at a plan file without opening it: a pipe would wait for its
// other end.
func Stat(tree fs.FS, name string) (fs.FileInfo, error) {
	info, err := fs.Stat(tree, name)
	if err == nil && !info.Mode().IsRegular() {
		return nil, fmt.Errorf("%s is not a regular file", name)
	}
	return info, plain(err)
}

// Read reads a plan file. One that cannot be read is a refused file that says
// why. What is known of the file from before, which may be nil, is shared.
func Read(tree fs.FS, name string, before *source.File) *source.File {
	info, err := Stat(tree, name)
	if err != nil {
		return source.Unreadable(name, err)
	}
	if info.Size() > source.MaxFile {
		return source.TooLarge(name, info.Size())
	}
	f, err := tree.Open(name)
	if err != nil {
		return source.Unreadable(name, plain(err))
	}
	defer f.Close()
	data, err := io.ReadAll(io.LimitReader(f, source.MaxFile+1)) // it may grow meanwhile
	if err != nil {
		return source.Unreadable(name, plain(err))
	}
	if before != nil {
		return before.Update(source.NewText(name, data))
	}
	return source.Parse(source.NewText(name, data))
}

// plain leaves out the name of the system call from an error.
func plain(err error) error {
	var pe *fs.PathError
	if errors.As(err, &pe) {
		return fmt.Errorf("%s: %w", pe.Path, pe.Err)
	}
	return err
}
