package lint

import (
	"fmt"
	"slices"
	"testing"

	"ohmstead/lint/figures"
	"ohmstead/schema"
	"ohmstead/schema/source"
)

// long finds every run's length, guarded every run's strip.
var (
	long = &Rule{Name: "long", Level: Warning, Check: func(p *Pass) {
		for _, r := range p.Plan.Runs {
			p.Report(Finding{Subject: r.ID(), At: r.At(r.Length.At), Message: r.Name})
		}
	}}
	guarded = &Rule{Name: "guarded", Level: Error, Guard: true, Check: func(p *Pass) {
		for _, r := range p.Plan.Runs {
			p.Report(Finding{Subject: r.ID(), At: r.At(r.Length.At), Message: r.Name})
		}
	}}
	ofText = &Rule{Name: "unit-missing", Level: Error} // the decoder reports it
)

// foundIn is what the three rules find in a text, and in stock beside it, as
// level, rule and the line where it stands.
func foundIn(t *testing.T, text, stock string) []string {
	t.Helper()
	read := func(name, text string) []*source.File {
		return []*source.File{source.Parse(source.NewText(name+"/plan.ohm.hcl", []byte(text)))}
	}
	plan := schema.Decode("hall", read("hall", text), func(string) ([]*source.File, error) { return read("store", stock), nil })
	fig, err := figures.Work(t.Context(), plan, nil)
	if err != nil {
		t.Fatal(err)
	}
	found, err := Run(t.Context(), plan, fig, []*Rule{long, guarded, ofText})
	if err != nil {
		t.Fatal(err)
	}
	out := []string{}
	for _, f := range found.Findings {
		if f.Rule == schema.RuleAttrMissing {
			continue // the runs here have no strip
		}
		file, start, _, ok := plan.Locate(f.At)
		if !ok {
			t.Fatalf("%s stands nowhere", f.Rule)
		}
		out = append(out, fmt.Sprintf("%s %s %d", f.Level, f.Rule, file.Text.OffsetPosition(start, source.UTF8).Line+1))
	}
	return out
}

const oneRun = "run \"a\" {\n  length = \"1 m\"\n}\n"

func TestPolicy(t *testing.T) {
	const plan = "plan \"hall\" { stock = [\"../store\"] }\n"
	for _, c := range []struct {
		name, policy, stock string
		want                []string
	}{
		{"none", "", "", []string{"error guarded 3", "warning long 3"}},
		{"off", `policy { off = ["long"] }`, "", []string{"error guarded 3"}},
		{"raised", `policy { error = ["long"] }`, "", []string{"error guarded 3", "error long 3"}},
		{"lowered", `policy { hint = ["long"] }`, "", []string{"error guarded 3", "hint long 3"}},
		{"as it is", `policy { warning = ["long"] }`, "", []string{"error guarded 3", "warning long 3"}},
		{"of stock", "", `policy { hint = ["long"] }`, []string{"error guarded 3", "hint long 3"}},
		{"the plan's own wins over its stock's", `policy { error = ["long"] }`, `policy { off = ["long"] }`, []string{"error guarded 3", "error long 3"}},
		{"a guard off", `policy { off = ["guarded"] }`, "", []string{"error guarded 3", "warning long 3", "error policy-unpermitted 5"}},
		{"a guard as a warning", `policy { warning = ["guarded"] }`, "", []string{"error guarded 3", "warning long 3", "error policy-unpermitted 5"}},
		{"a guard as an error", `policy { error = ["guarded"] }`, "", []string{"error guarded 3", "warning long 3"}},
		{"a rule of the text off", `policy { off = ["unit-missing"] }`, "", []string{"error guarded 3", "warning long 3", "error policy-unpermitted 5"}},
		{"no such rule", `policy { off = ["lung"] }`, "", []string{"error guarded 3", "warning long 3", "warning rule-unknown 5"}},
	} {
		got := foundIn(t, plan+oneRun+c.policy+"\n", c.stock)
		if !slices.Equal(got, c.want) {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
}

func TestAllow(t *testing.T) {
	const because = "allow long because it is"
	for _, c := range []struct {
		name, text string
		want       []string
	}{
		{"above the block", "# ohmstead: " + because + "\n" + oneRun, nil},
		{"with slashes", "// ohmstead: " + because + "\n" + oneRun, nil},
		{"above the block, above a note", "# ohmstead: " + because + "\n# A note.\n" + oneRun, nil},
		{"behind the line", "run \"a\" {\n  length = \"1 m\" # ohmstead: " + because + "\n}\n", nil},
		{"above the line", "run \"a\" {\n  # ohmstead: " + because + "\n  length = \"1 m\"\n}\n", nil},
		{"behind another line", "run \"a\" { # ohmstead: " + because + "\n  length = \"1 m\"\n}\n", []string{"warning allow-unused 1", "warning long 2"}},
		{"below the block", oneRun + "# ohmstead: " + because + "\n", []string{"warning long 2", "warning allow-unused 4"}},
		{"above the first of two", "# ohmstead: " + because + "\n" + oneRun + "run \"b\" {\n  length = \"1 m\"\n}\n", []string{"error guarded 6", "warning long 6"}},
		{"without a reason", "# ohmstead: allow long\n" + oneRun, []string{"warning allow-unexplained 1", "warning long 3"}},
		{"with the word and no reason", "# ohmstead: allow long because \n" + oneRun, []string{"warning allow-unexplained 1", "warning long 3"}},
		{"with what the editor writes", "# ohmstead: allow long because REASON\n" + oneRun, []string{"warning allow-unexplained 1", "warning long 3"}},
		{"a rule of the text", "# ohmstead: allow unit-missing because it is\n" + oneRun, []string{"error policy-unpermitted 1", "warning long 3"}},
		{"no such rule", "# ohmstead: allow lung because it is\n" + oneRun, []string{"warning rule-unknown 1", "warning long 3"}},
		{"another wording", "# ohmstead: allows long because it is\n" + oneRun, []string{"warning long 3"}},
	} {
		got := foundIn(t, c.text+"plan \"hall\" {}\n", "")
		// Nothing here is about the guard but where a block is not covered.
		if c.name != "above the first of two" {
			got = slices.DeleteFunc(got, func(f string) bool { return len(f) > 13 && f[:13] == "error guarded" })
		} else {
			got = slices.DeleteFunc(got, func(f string) bool { return f == "error guarded 3" })
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
}

// A guard's finding may be allowed where it stands, and what stock allows serves
// other plans as well, so it is not said to be unused.
func TestAllowGuardAndStock(t *testing.T) {
	text := "plan \"hall\" { stock = [\"../store\"] }\n# ohmstead: allow guarded because the lead is in a pipe\n" + oneRun
	stock := "# ohmstead: allow long because others need it\nwire \"w\" { gauge = \"16 AWG\" }\n"
	if got, want := foundIn(t, text, stock), []string{"warning long 4"}; !slices.Equal(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
}
