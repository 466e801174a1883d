package rules

import (
	"os"
	"path/filepath"
	"slices"
	"testing"

	"ohmstead/lint"
	"ohmstead/lint/figures"
	"ohmstead/schema"
	"ohmstead/schema/source"
)

// What hangs on a value that cannot be used is left out, never guessed: with any
// one value of a plan broken, only the language rules have more to say.
func TestBrokenValues(t *testing.T) {
	brokenValues(t, "../../testdata/rules/base/*.ohm.hcl")
}

func brokenValues(t *testing.T, pattern string) {
	files, err := filepath.Glob(pattern)
	if err != nil || len(files) == 0 {
		t.Fatalf("%d plans, %v", len(files), err)
	}
	for _, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		before := judged(t, data)
		whole := source.Parse(source.NewText("plan/plan.ohm.hcl", data))
		for i, piece := range whole.Pieces {
			for _, n := range schema.NodesIn(piece) {
				forEachValue(n, func(at source.Span) {
					start, end := whole.Offset(i)+at.Start, whole.Offset(i)+at.End
					for _, bad := range []string{`"5 parsec"`, "run.none"} {
						for found := range judged(t, slices.Concat(data[:start], []byte(bad), data[end:])) {
							if !before[found] {
								line := whole.Text.OffsetPosition(start, source.UTF8).Line + 1
								t.Errorf("%s:%d: with %s for %s there is %s", file, line, bad, data[start:end], found)
							}
						}
					}
				})
			}
		}
	}
}

func forEachValue(n *schema.Node, f func(source.Span)) {
	for _, a := range n.Assigns {
		f(a.Val.At)
	}
	for _, b := range n.Blocks {
		forEachValue(b, f)
	}
}

// judged is what the rules that judge a plan find in it, by rule and subject.
func judged(t *testing.T, text []byte) map[string]bool {
	t.Helper()
	plan := schema.Decode("plan", []*source.File{source.Parse(source.NewText("plan/plan.ohm.hcl", text))}, nil)
	fig, err := figures.Work(t.Context(), plan, nil)
	if err != nil {
		t.Fatal(err)
	}
	found, err := lint.Run(t.Context(), plan, fig, All)
	if err != nil {
		t.Fatal(err)
	}
	judges := map[string]bool{}
	for _, r := range All {
		judges[r.Name] = r.Check != nil
	}
	out := map[string]bool{}
	for _, f := range found.Findings {
		if judges[f.Rule] {
			out[f.Rule+" "+f.Subject] = true
		}
	}
	return out
}
