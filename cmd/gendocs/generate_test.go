package main

import (
	"encoding/json"
	"os"
	"testing"

	"ohmstead/schema"
)

func TestGeneratedFilesAreCurrent(t *testing.T) {
	stale, err := generate("../..", false)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range stale {
		t.Errorf("%s is stale; run: go generate ./cmd/gendocs", f)
	}
}

// A new block type is not done before the extension can put one down.
func TestEveryBlockTypeHasASnippet(t *testing.T) {
	file := "../../editors/vscode/snippets/ohmstead.json"
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	var snippets map[string]struct{ Prefix string }
	if err := json.Unmarshal(text, &snippets); err != nil {
		t.Fatal(err)
	}
	prefixes := map[string]bool{}
	for _, s := range snippets {
		prefixes[s.Prefix] = true
	}
	for _, b := range schema.Language {
		if !prefixes["new-"+b.Name] {
			t.Errorf("no snippet new-%s in %s", b.Name, file)
		}
	}
}
