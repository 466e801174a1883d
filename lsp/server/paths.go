package server

import (
	"os"
	"path/filepath"
	"strings"

	"go.lsp.dev/uri"

	"ohmstead/schema/plans"
)

// keyOf names a document: a file by its path with all symbolic links of its
// directory resolved, so that each way to write the path gives the same name;
// anything else by its URI. The file's own name is kept even if it is a link,
// since the name says which plan it belongs to.
func keyOf(u uri.URI) string {
	if !u.IsFile() {
		return strings.Clone(string(u)) // it aliases the whole message
	}
	dir, name := filepath.Split(filepath.Clean(u.FsPath()))
	return filepath.Join(realPath(dir), name)
}

// realPath resolves symbolic links as far as the path exists.
func realPath(p string) string {
	p = filepath.Clean(p)
	if real, err := filepath.EvalSymlinks(p); err == nil {
		return real
	}
	parent := filepath.Dir(p)
	if parent == p {
		return p
	}
	return filepath.Join(realPath(parent), filepath.Base(p))
}

// isPlanFile reports whether a document belongs to the plan of its directory.
func isPlanFile(key string) bool {
	return filepath.IsAbs(key) && strings.HasSuffix(key, plans.Suffix)
}

// within gives the slash-separated path of target below base, "." for base itself.
func within(base, target string) (string, bool) {
	rel, err := filepath.Rel(base, target)
	if err != nil || !plans.Inside(base, target) {
		return "", false
	}
	return filepath.ToSlash(rel), true
}

// rootOf is the root of the plan in a directory outside of every folder.
func rootOf(dir string) (root string, repository bool) {
	root, err := plans.Root([]string{dir}, isRepository)
	if err != nil {
		root = filepath.Dir(dir) // it cannot fail for one directory
	}
	return root, isRepository(root)
}

// isRepository reports whether a directory holds .git, a directory or, in a
// linked working tree, a file.
func isRepository(dir string) bool {
	_, err := os.Lstat(filepath.Join(dir, ".git"))
	return err == nil
}

func isDirectory(path string) bool {
	info, err := os.Lstat(path)
	return err == nil && info.IsDir()
}
