package workspace

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
)

// FindRoot chooses the root for some files and directories: for each of them
// the nearest directory upwards that holds .git, else its parent, so that
// "../workshop" can be its stock; and of several the one that holds them all.
func FindRoot(args []string) (string, error) {
	root := ""
	for _, arg := range args {
		abs, err := realPath(arg)
		if err != nil {
			return "", err
		}
		dir := abs
		if info, err := os.Stat(abs); err != nil || !info.IsDir() {
			dir = filepath.Dir(abs)
		}
		r, ok := repository(dir)
		if !ok {
			r = filepath.Dir(dir)
		}
		if root == "" {
			root = r
		}
		for !inside(root, r) {
			root = filepath.Dir(root)
		}
	}
	return root, nil
}

// repository finds the nearest directory upwards that holds .git, a directory
// or, in a linked working tree, a file.
func repository(dir string) (string, bool) {
	for {
		if _, err := os.Lstat(filepath.Join(dir, ".git")); err == nil {
			return dir, true
		}
		up := filepath.Dir(dir)
		if up == dir {
			return "", false
		}
		dir = up
	}
}

// realPath is the absolute path with links resolved as far as it exists.
func realPath(p string) (string, error) {
	abs, err := filepath.Abs(p)
	if err != nil {
		return "", err
	}
	rest := ""
	for at := abs; ; {
		if real, err := filepath.EvalSymlinks(at); err == nil {
			return filepath.Join(real, rest), nil
		}
		up := filepath.Dir(at)
		if up == at {
			return abs, nil
		}
		rest = filepath.Join(filepath.Base(at), rest)
		at = up
	}
}

func inside(root, target string) bool {
	rel, err := filepath.Rel(root, target)
	return err == nil && rel != ".." && !strings.HasPrefix(rel, ".."+string(filepath.Separator))
}

// Rel is the slash-separated path below the root of a file or directory named
// on the command line; "." is the root itself.
func (w *Workspace) Rel(arg string) (string, error) {
	abs, err := realPath(arg)
	if err != nil {
		return "", err
	}
	if !inside(w.Root, abs) {
		return "", fmt.Errorf("%s lies outside of the root %s", arg, w.Root)
	}
	rel, err := filepath.Rel(w.Root, abs)
	if err != nil {
		return "", err
	}
	return filepath.ToSlash(rel), nil
}

// Shown is how a path below the root is shown to a person: relative to the
// current directory where it lies in it, else absolute.
func (w *Workspace) Shown(name string) string {
	abs := filepath.Join(w.Root, filepath.FromSlash(name))
	cwd, err := os.Getwd()
	if err != nil {
		return abs
	}
	if cwd, err = filepath.EvalSymlinks(cwd); err != nil || !inside(cwd, abs) {
		return abs
	}
	rel, err := filepath.Rel(cwd, abs)
	if err != nil {
		return abs
	}
	return filepath.ToSlash(rel)
}
