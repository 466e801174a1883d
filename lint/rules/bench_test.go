package rules

import (
	"os"
	"path/filepath"
	"testing"

	"ohmstead/lint"
	"ohmstead/lint/figures"
	"ohmstead/schema"
	"ohmstead/schema/source"
)

// BenchmarkCheck is the whole way from a demo plan's text to its findings.
func BenchmarkCheck(b *testing.B) {
	files, err := filepath.Glob("../../testdata/plans/*/plan.ohm.hcl")
	if err != nil || len(files) == 0 {
		b.Fatalf("%d demo plans, %v", len(files), err)
	}
	for _, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			b.Fatal(err)
		}
		b.Run(filepath.Base(filepath.Dir(file)), func(b *testing.B) {
			for b.Loop() {
				plan := schema.Decode("plan", []*source.File{source.Parse(source.NewText("plan/plan.ohm.hcl", data))}, nil)
				fig, err := figures.Work(b.Context(), plan, nil)
				if err != nil {
					b.Fatal(err)
				}
				if _, err := lint.Run(b.Context(), plan, fig, All); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
