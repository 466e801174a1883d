package main

import (
	"bytes"
	"os"
	"path/filepath"
)

// Run twice: the second run knows the rules that the first one listed.
//go:generate go run . -root ../..
//go:generate go run . -root ../..

// outputs lists the generated files, each with what makes it.
var outputs = []struct {
	path string
	make func(root string) ([]byte, error)
}{
	{"lint/rules/all.go", ruleList},
	{"lint/RULES.md", rulePages},
	{"schema/LANGUAGE.md", languagePages},
	{"editors/grammar/words.json", wordList},
}

// generate makes every generated file and reports those whose content differs
// from what is there; with write it replaces them.
func generate(root string, write bool) (stale []string, err error) {
	for _, o := range outputs {
		want, err := o.make(root)
		if err != nil {
			return nil, err
		}
		path := filepath.Join(root, filepath.FromSlash(o.path))
		have, _ := os.ReadFile(path) // a file that is not there is stale
		if bytes.Equal(have, want) {
			continue
		}
		stale = append(stale, o.path)
		if write {
			if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
				return nil, err
			}
			if err := os.WriteFile(path, want, 0o644); err != nil {
				return nil, err
			}
		}
	}
	return stale, nil
}
