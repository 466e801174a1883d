package main

import (
	"bytes"
	"context"
	"os"
	"strings"
	"testing"

	"ohmstead/lint/drawing"
	"ohmstead/lint/figures"
	"ohmstead/schema/plans"
)

// The pictures that README.md shows are those of the plan today.
func TestReadmeShowsRealPictures(t *testing.T) {
	t.Chdir("../..")
	p, err := plans.New(os.DirFS(".")).Decode("testdata/plans/bookcase")
	if err != nil {
		t.Fatal(err)
	}
	f, err := figures.Work(context.Background(), p, nil)
	if err != nil {
		t.Fatal(err)
	}
	readme, err := os.ReadFile("README.md")
	if err != nil {
		t.Fatal(err)
	}
	for name, s := range map[string]*drawing.Scene{
		"bookcase-elevation.svg": drawing.Elevation(f, drawing.Places(f)[0], drawing.Sheet),
		"bookcase-wiring.svg":    drawing.Wiring(f, drawing.Sheet)[0],
	} {
		path := "testdata/pictures/" + name
		if !strings.Contains(string(readme), "("+path+")") {
			t.Errorf("README.md does not show %s", path)
		}
		want := s.OnPaper().SVG()
		if *update {
			if err := os.WriteFile(path, want, 0o644); err != nil {
				t.Fatal(err)
			}
			continue
		}
		if have, err := os.ReadFile(path); err != nil || !bytes.Equal(have, want) {
			t.Errorf("%s is another picture than the plan's, %v; run: go test ./cmd/ohmstead -run Readme -update", path, err)
		}
	}
}
