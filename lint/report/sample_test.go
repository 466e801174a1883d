package report

import (
	"bytes"
	"flag"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"ohmstead/lint"
	"ohmstead/schema"
	"ohmstead/schema/source"
)

var update = flag.Bool("update", false, "rewrite the golden files")

// The sample has what is hard to report: characters of several bytes before a
// place, a tab, a terminal escape, a path that has to be escaped, places over
// several lines, in stock and in no file.
const sampleText = "plan \"shelf\" {\n\ttitle = \"Größe 😀 50 %\" # 🛠\n}\n\nrun \"a\" {\n  length = 1\n}\n\nrun \"b\" {\n  note = \"\x1b[31m\"\n}\n"

const stockText = "strip \"led\" {\n  voltage = \"5 V\"\n}\n"

func samplePlan(dir string) (*schema.Plan, func(text string) source.Span) {
	file := source.Parse(source.NewText(dir+"/plan, 50%.ohm.hcl", []byte(sampleText)))
	stock := source.Parse(source.NewText("workshop/parts.ohm.hcl", []byte(stockText)))
	// A stock directory would do the same by way of Fetch; this keeps the sample short.
	withStock := schema.Decode(dir, []*source.File{source.Parse(source.NewText(dir+"/head.ohm.hcl", []byte("plan \"shelf\" { stock = [\"../workshop\"] }\n"))), file},
		func(string) ([]*source.File, error) { return []*source.File{stock}, nil })
	find := func(text string) source.Span {
		for _, f := range append(withStock.Files, withStock.StockFiles...) {
			for _, p := range f.Pieces {
				if i := bytes.Index(p.Bytes(), []byte(text)); i >= 0 {
					return source.Span{Piece: p, Start: i, End: i + len(text)}
				}
			}
		}
		panic("the sample does not hold " + text)
	}
	return withStock, find
}

var sampleRules = []*lint.Rule{
	{Name: "voltage-low", Title: "A pixel gets too little voltage", Level: lint.Warning, Why: "Colours fade.", Do: "Feed the end too."},
	{Name: "unit-missing", Title: "A number has no unit", Level: lint.Error, Guard: true, Why: "A bare number says nothing.", Do: "Write the unit."},
}

func samplePlans() []*Plan {
	var out []*Plan
	for _, dir := range []string{"plans/shelf", "plans/über"} {
		plan, at := samplePlan(dir)
		out = append(out, Resolve(plan, []lint.Finding{
			{Rule: "unit-missing", Level: lint.Error, Subject: "run.a", At: at("1"), Message: "1 is a bare number; write \"1 m\"",
				Fixes:   []lint.Fix{{Title: "Write \"1 m\"", Grade: schema.GradeNotation, Edits: []lint.Edit{{At: at("1"), New: "\"1 m\""}}}, {Title: "Remove it", Edits: []lint.Edit{{At: at("  length = 1\n")}}}},
				Related: []lint.Related{{At: at("voltage"), Message: "its strip"}}},
			{Rule: "voltage-low", Level: lint.Warning, Subject: "run.b", At: at("run \"b\" {\n  note"), Message: "run.b: pixel 215 gets 3.71 V in case full, below 4.0 V",
				Value: &lint.Value{Got: 3.71, Limit: 4, Unit: "V"}, Case: "full"},
			{Rule: "voltage-low", Level: lint.Warning, Subject: "run.b", At: at("run \"b\""), Message: "run.b: pixel 9 gets 3.2 V in case full, below 4.0 V",
				Value: &lint.Value{Got: math.Inf(1), Limit: 4, Unit: "V"}},
			{Rule: "title-odd", Level: lint.Hint, Subject: "plan", At: at("50 %"), Message: "a title with 50 %: odd\nand on two lines"},
			{Rule: "title-odd", Level: lint.Hint, Subject: "run.b", At: at("\x1b[31m"), Message: "a note that steers the terminal \x1b[2J"},
			{Rule: "strip-odd", Level: lint.Warning, At: at("voltage = \"5 V\""), Message: "a strip of the workshop"},
			{Rule: "plan-odd", Level: lint.Error, Message: "the plan as a whole"},
		}))
	}
	empty := schema.Decode("plans/none", nil, nil)
	out = append(out, Resolve(empty, []lint.Finding{{Rule: "plan-missing", Level: lint.Error, Message: "nothing is there"}}))
	clean := schema.Decode("plans/clean", nil, nil)
	out = append(out, Resolve(clean, nil))
	plan, at := samplePlan("plans/shelf")
	quiet := func(rule string, level lint.Level, subject, by, reason string) lint.Hidden {
		return lint.Hidden{Finding: lint.Finding{Rule: rule, Level: level, Subject: subject, At: at("run \"b\""), Message: subject + ": nobody hears of it"}, By: at(by), Means: map[bool]lint.Means{true: lint.Policy, false: lint.Comment}[rule == "voltage-low"], Reason: reason, Guard: rule == "unit-missing"}
	}
	out[0].Hide(plan, []lint.Hidden{
		quiet("voltage-low", lint.Warning, "run.b", "voltage", "a hall is dark"),
		quiet("unit-missing", lint.Error, "run.b", "1", "it is a \x1b[31mshelf"),
		quiet("unit-missing", lint.Error, "run.b-2", "1", "it is a \x1b[31mshelf"),
		quiet("voltage-low", lint.Warning, "run.a", "voltage", "a hall is dark"),
	})
	return out
}

func sample() *Run {
	r := NewRun(samplePlans(), sampleRules)
	r.Version = "1.2.3"
	return r
}

// golden compares output with a file of testdata.
func golden(t *testing.T, name string, got []byte) {
	t.Helper()
	file := filepath.Join("testdata", name)
	if *update {
		if err := os.WriteFile(file, got, 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(strings.Split(string(want), "\n"), strings.Split(string(got), "\n")); d != "" {
		t.Errorf("%s (-want +got), review with -update:\n%s", file, d)
	}
}
