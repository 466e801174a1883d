package server

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"ohmstead/calc/thorough"
	"ohmstead/lint"
	"ohmstead/lint/figures"
	"ohmstead/schema"
	"ohmstead/schema/bigplan"
	"ohmstead/schema/source"
)

// What is found in a wall while it is edited is what is found in its text from the start: nothing that is taken over from the
// version before is of another one.
func TestWallWhileEdited(t *testing.T) {
	judged := func(p *schema.Plan, fig *figures.Figures) string {
		var b strings.Builder
		for _, f := range must(lint.Run(t.Context(), p, fig, allRules())).Findings {
			fmt.Fprintln(&b, f.Rule, f.Level, f.Subject, f.Message, len(f.Related))
		}
		return b.String()
	}
	typist, r := newTypist(bigplan.Wall(1)), rand.New(rand.NewPCG(5, 6))
	text := func() *source.Text { return source.NewText("p/plan.ohm.hcl", []byte(typist.text())) }
	file := source.Parse(text())
	texts, memo := new(schema.Memo), figures.NewMemo()
	all := append([]string{"ringed lead"}, kinds...)
	reports := map[string]bool{}
	for i := range thorough.Or(150, 16) {
		kind := all[r.IntN(len(all))]
		typist.do(t, kind)
		file = file.Update(text())
		edited := texts.Decode("p", []*source.File{file}, nil)
		got := judged(edited, figures.Prepare(edited, memo))
		fresh := schema.Decode("p", []*source.File{source.Parse(text())}, nil)
		if want := judged(fresh, figures.Prepare(fresh, figures.NewMemo())); got != want {
			t.Fatalf("edit %d, %s:\n%s\nfrom the start:\n%s", i, kind, got, want)
		}
		reports[got] = true
	}
	if len(reports) < 8 {
		t.Errorf("%d reports only: too few to tell", len(reports))
	}
}
