package rules

import (
	"os"
	"path/filepath"
	"testing"

	"ohmstead/lint"
	"ohmstead/lint/figures"
	"ohmstead/lint/linttest"
	"ohmstead/schema"
	"ohmstead/schema/source"
)

func TestRules(t *testing.T) { linttest.Rules(t, "../../testdata/rules", All) }

// The demo plans have no errors.
func TestDemoPlans(t *testing.T) {
	dirs, err := filepath.Glob("../../testdata/plans/*")
	if err != nil || len(dirs) == 0 {
		t.Fatalf("%d demo plans, %v", len(dirs), err)
	}
	for _, dir := range dirs {
		t.Run(filepath.Base(dir), func(t *testing.T) {
			var files []*source.File
			names, err := filepath.Glob(filepath.Join(dir, "*.ohm.hcl"))
			if err != nil {
				t.Fatal(err)
			}
			for _, n := range names {
				data, err := os.ReadFile(n)
				if err != nil {
					t.Fatal(err)
				}
				files = append(files, source.Parse(source.NewText(filepath.Base(dir)+"/"+filepath.Base(n), data)))
			}
			plan := schema.Decode(filepath.Base(dir), files, nil)
			fig, err := figures.Work(t.Context(), plan, nil)
			if err != nil {
				t.Fatal(err)
			}
			found, err := lint.Run(t.Context(), plan, fig, All)
			if err != nil {
				t.Fatal(err)
			}
			for _, f := range found.Findings {
				if f.Level == lint.Error {
					t.Errorf("%s: %s", f.Rule, f.Message)
				} else {
					t.Logf("%s %s: %s", f.Level, f.Rule, f.Message)
				}
			}
		})
	}
}

// The plan that most fixtures are like is the one that the examples are like.
func TestShelf(t *testing.T) {
	data, err := os.ReadFile("../../testdata/rules/base/shelf.ohm.hcl")
	if err != nil {
		t.Fatal(err)
	}
	if string(data) != shelf {
		t.Error("testdata/rules/base/shelf.ohm.hcl and the examples' shelf differ")
	}
}
