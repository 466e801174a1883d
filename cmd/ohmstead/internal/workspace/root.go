package workspace

import (
	"fmt"
	"os"
	"path/filepath"

	"ohmstead/schema/plans"
)

// FindRoot chooses the root for some files and directories; see [plans.Root].
func FindRoot(args []string) (string, error) {
	var dirs []string
	for _, arg := range args {
		dir, err := realPath(arg)
		if err != nil {
			return "", err
		}
		if info, err := os.Stat(dir); err != nil || !info.IsDir() {
			dir = filepath.Dir(dir)
		}
		dirs = append(dirs, dir)
	}
	return plans.Root(dirs, isRepository)
}

// isRepository reports whether a directory holds .git, a directory or, in a
// linked working tree, a file.
func isRepository(dir string) bool {
	_, err := os.Lstat(filepath.Join(dir, ".git"))
	return err == nil
}

// Repository is the repository that a file or directory lies in; "" for none.
func Repository(arg string) (string, error) {
	dir, err := realPath(arg)
	if err != nil {
		return "", err
	}
	for {
		if isRepository(dir) {
			return dir, nil
		}
		up := filepath.Dir(dir)
		if up == dir {
			return "", nil
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

// Rel is the slash-separated path below the root of a file or directory named
// on the command line; "." is the root itself.
func (w *Workspace) Rel(arg string) (string, error) {
	abs, err := realPath(arg)
	if err != nil {
		return "", err
	}
	if !plans.Inside(w.Root, abs) {
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
	if cwd, err = filepath.EvalSymlinks(cwd); err != nil || !plans.Inside(cwd, abs) {
		return abs
	}
	rel, err := filepath.Rel(cwd, abs)
	if err != nil {
		return abs
	}
	return filepath.ToSlash(rel)
}
