package main

import "testing"

func TestGeneratedFilesAreCurrent(t *testing.T) {
	stale, err := generate("../..", false)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range stale {
		t.Errorf("%s is stale; run: go generate ./cmd/gendocs", f)
	}
}
