package lists_test

import (
	"io"
	"testing"

	"ohmstead/lint/figures"
	"ohmstead/lint/lists"
	"ohmstead/schema"
	"ohmstead/schema/bigplan"
	"ohmstead/schema/source"
)

// BenchmarkLists makes and writes all lists of a plan of ten thousand pixels.
func BenchmarkLists(b *testing.B) {
	p := schema.Decode("", []*source.File{source.Parse(source.NewText("plan.ohm.hcl", []byte(bigplan.Wall(1))))}, nil)
	f, err := figures.Work(b.Context(), p, nil)
	if err != nil {
		b.Fatal(err)
	}
	write := map[string]func(*lists.Table, io.Writer) error{"text": (*lists.Table).Text, "csv": (*lists.Table).CSV, "json": (*lists.Table).JSON}
	for _, form := range []string{"text", "csv", "json"} {
		b.Run("all/"+form, func(b *testing.B) {
			for b.Loop() {
				for _, l := range lists.All {
					if err := write[form](l.Of(f), io.Discard); err != nil {
						b.Fatal(err)
					}
				}
			}
		})
	}
	for _, l := range lists.All {
		b.Run(l.Name, func(b *testing.B) {
			for b.Loop() {
				l.Of(f)
			}
		})
	}
}
