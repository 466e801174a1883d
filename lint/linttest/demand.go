package linttest

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/hashicorp/hcl/v2/hclwrite"
	"golang.org/x/tools/txtar"

	"ohmstead/lint"
	"ohmstead/schema"
	"ohmstead/schema/source"
)

// Rules demands of every rule that it is documented, that its examples behave,
// and that its fixture in dir passes and fails without the rule.
func Rules(t *testing.T, dir string, rules []*lint.Rule) {
	for _, r := range rules {
		t.Run(r.Name, func(t *testing.T) {
			t.Parallel()
			documented(t, r)
			if r.Name == lint.RuleFailed {
				return // no plan is to have it; the engine's own test does
			}
			examples(t, r, rules)
			file := filepath.Join(dir, strings.ReplaceAll(r.Name, "-", "_")+".txtar")
			if _, err := os.Stat(file); err != nil {
				t.Fatalf("no fixture: %v", err)
			}
			Run(t, file, rules)
			mendable(t, file, r)
			if r.Check != nil { // what has none is reported whether it is listed or not
				disabled(t, file, r, rules)
			}
		})
	}
}

func documented(t *testing.T, r *lint.Rule) {
	t.Helper()
	for what, text := range map[string]string{"Title": r.Title, "Why": r.Why, "Do": r.Do, "Sources": strings.Join(r.Sources, "")} {
		if strings.TrimSpace(text) == "" {
			t.Errorf("%s is empty", what)
		}
	}
	if n := utf8.RuneCountInString(r.Title); n > 60 || strings.HasSuffix(r.Title, ".") {
		t.Errorf("Title %q has %d letters; at most 60 without a full stop", r.Title, n)
	}
	if r.Level == lint.Off {
		t.Error("Level is not set")
	}
	for what, text := range map[string]string{"Why": r.Why, "Do": r.Do} {
		if text != strings.TrimSpace(text) {
			t.Errorf("%s starts or ends with white space", what)
		}
	}
}

// examples demands that Bad has the rule's finding, that Good has no warning
// or error, and that both stand in canonical layout.
func examples(t *testing.T, r *lint.Rule, rules []*lint.Rule) {
	t.Helper()
	read := func(text string) []lint.Finding {
		return judge(schema.Decode("example", []*source.File{source.Parse(source.NewText("example/plan.ohm.hcl", []byte(text)))}, nil), rules)
	}
	found := false
	for _, f := range read(r.Bad()) {
		found = found || f.Rule == r.Name
	}
	if !found {
		t.Errorf("Bad does not have the finding")
	}
	for _, f := range read(r.Good()) {
		if f.Level >= lint.Warning || f.Rule == r.Name {
			t.Errorf("Good has %s %s: %s", f.Level, f.Rule, f.Message)
		}
	}
	for what, text := range map[string]string{"Bad": r.Bad(), "Good": r.Good()} {
		if got := string(hclwrite.Format([]byte(text))); got != text && r.Name != schema.RuleSyntax {
			t.Errorf("%s is not in canonical layout: %s", what, firstChange(text, got))
		}
	}
}

// mendable demands of a rule of errors or warnings that some finding of its fixture has a fix, or else that it says why
// there can be none.
func mendable(t *testing.T, file string, r *lint.Rule) {
	t.Helper()
	f, err := Load(file)
	if err != nil {
		t.Fatal(err)
	}
	fixed := slices.ContainsFunc(f.ar.Files, func(s txtar.File) bool { return strings.HasPrefix(s.Name, "fix/") })
	switch {
	case r.Level < lint.Warning:
	case !fixed && r.NoFix == "":
		t.Error("no finding of the fixture has a fix, and NoFix does not say why")
	case fixed && r.NoFix != "":
		t.Error("NoFix says why there is no fix, and the fixture has one")
	}
}

// disabled demands that the fixture fails when the rule is taken out.
func disabled(t *testing.T, file string, r *lint.Rule, rules []*lint.Rule) {
	t.Helper()
	f, err := Load(file)
	if err != nil {
		t.Fatal(err)
	}
	var others []*lint.Rule
	for _, o := range rules {
		if o != r {
			others = append(others, o)
		}
	}
	for _, m := range f.Judge(others) {
		if strings.Contains(m, ": no "+r.Name+" that says ") {
			return
		}
	}
	t.Errorf("the fixture %s does not miss the rule when it is taken out", file)
}
