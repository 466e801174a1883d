package ide

import (
	"context"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"golang.org/x/tools/txtar"

	"ohmstead/lint"
	"ohmstead/lint/rules"
	"ohmstead/schema"
	"ohmstead/schema/source"
)

// A hover and the finding of a lead without a fuse say the same of the fuse that it needs.
func TestHoverSaysFusesOfFinding(t *testing.T) {
	ar, err := txtar.ParseFile("../../testdata/lsp/hover_fuses.txtar")
	if err != nil {
		t.Fatal(err)
	}
	shelf, err := os.ReadFile("../../testdata/rules/base/shelf.ohm.hcl")
	if err != nil {
		t.Fatal(err)
	}
	fit := regexp.MustCompile(`fit a blade fuse of ([0-9., Aor]+ A)`)
	seen := 0
	for _, text := range []string{string(ar.Files[0].Data), strings.ReplaceAll(string(shelf), "fuse   =", "# fuse =")} {
		plan := schema.Decode("p", []*source.File{source.Parse(source.NewText("p/p.ohm.hcl", []byte(text)))}, nil)
		v := &View{Plan: plan, Figures: worked(plan), Rules: rules.All}
		found, err := lint.Run(context.Background(), plan, v.Figures, rules.All)
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range found.Findings {
			l, ok := v.Figures.LeadNamed(f.Subject)
			if !ok || f.Rule != "wire-unprotected" || l.Fuse.Set {
				continue
			}
			i := slices.IndexFunc(v.facts(l.Lead, ""), func(x fact) bool { return x.name == "fuses that suit" })
			if i < 0 {
				t.Errorf("the hover of %s says no fuse", l.ID())
				continue
			}
			seen++
			hover := v.facts(l.Lead, "")[i].text
			m := fit.FindStringSubmatch(f.Message)
			if m == nil {
				if _, instead, _ := strings.Cut(hover, "): "); instead == "" || !strings.Contains(f.Message, instead) {
					t.Errorf("%s: the hover says %q, the finding %q", l.ID(), hover, f.Message)
				}
				continue
			}
			says := strings.ReplaceAll(m[1], " or ", ", ")
			if hover, _, _ = strings.Cut(hover, " ("); hover != says && !(strings.Count(says, ",") == 2 && strings.HasPrefix(hover, says+", ")) {
				t.Errorf("%s: the hover says %q, the finding %q", l.ID(), hover, f.Message)
			}
		}
	}
	if seen < 6 {
		t.Errorf("only %d leads seen", seen)
	}
}
