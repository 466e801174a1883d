package plans

import (
	"fmt"
	"path/filepath"
	"strings"
)

// Root chooses the directory that plans and their stock stay inside, for some
// directories given by absolute paths without links: for each of them the
// nearest directory upwards that is a repository, else its parent, so that
// "../workshop" can be its stock; and of several the one that holds them all.
func Root(dirs []string, repository func(dir string) bool) (string, error) {
	root := ""
	for _, dir := range dirs {
		r := rootOf(dir, repository)
		if root == "" {
			root = r
		}
		for !Inside(root, r) {
			up := filepath.Dir(root)
			if up == root {
				return "", fmt.Errorf("no directory holds both %s and %s", dirs[0], dir)
			}
			root = up
		}
	}
	return root, nil
}

func rootOf(dir string, repository func(dir string) bool) string {
	for at := dir; ; {
		if repository(at) {
			return at
		}
		up := filepath.Dir(at)
		if up == at {
			return filepath.Dir(dir)
		}
		at = up
	}
}

// Inside reports whether a path is a directory or lies below it.
func Inside(dir, target string) bool {
	rel, err := filepath.Rel(dir, target)
	return err == nil && rel != ".." && !strings.HasPrefix(rel, ".."+string(filepath.Separator))
}
