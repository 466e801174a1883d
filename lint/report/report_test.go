package report

import (
	"bytes"
	"encoding/json"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/santhosh-tekuri/jsonschema/v6"

	"ohmstead/lint"
	"ohmstead/schema"
	"ohmstead/schema/source"
)

func write(t *testing.T, to func(w io.Writer) error) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := to(&b); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func TestText(t *testing.T) {
	golden(t, "sample.txt", write(t, func(w io.Writer) error { return Text(w, sample(), Style{}) }))
	golden(t, "sample-color.txt", write(t, func(w io.Writer) error { return Text(w, sample(), Style{Color: true, Path: filepath.Base}) }))
}

func TestTextSteersNoTerminal(t *testing.T) {
	out := write(t, func(w io.Writer) error { return Text(w, sample(), Style{}) })
	if bytes.ContainsRune(out, 0x1b) {
		t.Errorf("an escape of the plan reaches the terminal:\n%q", out)
	}
}

func TestLongLine(t *testing.T) {
	text := "x = \"" + strings.Repeat("é", 400) + "MARK" + strings.Repeat("語", 400) + "\"\n"
	f := source.Parse(source.NewText("long.ohm.hcl", []byte(text)))
	plan := schema.Decode(".", []*source.File{f}, nil)
	i := strings.Index(text, "MARK")
	run := NewRun([]*Plan{Resolve(plan, []lint.Finding{{Rule: "x", Level: lint.Hint, At: source.Span{Piece: f.Pieces[0], Start: i, End: i + 4}, Message: "here"}})}, nil)
	golden(t, "long.txt", write(t, func(w io.Writer) error { return Text(w, run, Style{}) }))
}

func TestJSON(t *testing.T) {
	golden(t, "sample.json", write(t, func(w io.Writer) error { return JSON(w, sample(), Style{}) }))
}

func TestSARIF(t *testing.T) {
	out := write(t, func(w io.Writer) error { return SARIF(w, sample(), "1.2.3") })
	golden(t, "sample.sarif", out)
	validate(t, "sarif-schema-2.1.0.json", out)
	validate(t, "sarif-schema-2.1.0.json", write(t, func(w io.Writer) error { return SARIF(w, NewRun(nil, nil), "") }))
}

func TestGitLab(t *testing.T) {
	out := write(t, func(w io.Writer) error { return GitLab(w, sample()) })
	golden(t, "sample-gitlab.json", out)
	validate(t, "gitlab-code-quality.json", out)
	validate(t, "gitlab-code-quality.json", write(t, func(w io.Writer) error { return GitLab(w, NewRun(nil, nil)) }))
	var issues []gitlabIssue
	if err := json.Unmarshal(out, &issues); err != nil {
		t.Fatal(err)
	}
	seen := map[string]bool{}
	for _, i := range issues {
		if seen[i.Fingerprint] {
			t.Errorf("two issues have the fingerprint %s; a report must not repeat one", i.Fingerprint)
		}
		seen[i.Fingerprint] = true
	}
}

func TestGitHub(t *testing.T) {
	golden(t, "sample-github.txt", write(t, func(w io.Writer) error { return GitHub(w, sample()) }))
}

// The runner takes the first "::" behind the properties for the start of the
// message, splits properties at commas, and then undoes the escapes.
func TestGitHubReadsBack(t *testing.T) {
	unescape := strings.NewReplacer("%2C", ",", "%3A", ":", "%0A", "\n", "%0D", "\r", "%25", "%")
	lines := strings.Split(strings.TrimRight(string(write(t, func(w io.Writer) error { return GitHub(w, sample()) })), "\n"), "\n")
	i := 0
	for f := range sample().All {
		head, message, ok := strings.Cut(strings.TrimPrefix(lines[i], "::"), "::")
		if !ok || unescape.Replace(message) != strings.ReplaceAll(f.Message, "\x1b", "\uFFFD") {
			t.Errorf("line %d gives the message %q, want %q", i+1, unescape.Replace(message), f.Message)
		}
		_, props, _ := strings.Cut(head, " ")
		for _, p := range strings.Split(props, ",") {
			if name, value, _ := strings.Cut(p, "="); name == "file" && unescape.Replace(value) != f.Place.Path() {
				t.Errorf("line %d names the file %q, want %q", i+1, unescape.Replace(value), f.Place.Path())
			}
		}
		i++
	}
	how := map[lint.Means]string{lint.Comment: " is hidden::allowed by comment at ", lint.Policy: " is hidden::turned off by policy at "}
	for _, p := range sample().Plans {
		for _, h := range p.Hidden {
			if !strings.HasPrefix(lines[i], "::notice file=") || !strings.Contains(lines[i], how[h.Means]) {
				t.Errorf("line %d does not say what is hidden and how: %s", i+1, lines[i])
			}
			i++
		}
	}
	if i != len(lines) {
		t.Errorf("%d lines for %d findings", len(lines), i)
	}
}

func TestJUnit(t *testing.T) {
	out := write(t, func(w io.Writer) error { return JUnit(w, sample()) })
	golden(t, "sample-junit.xml", out)
	lint := lookPath(t, "xmllint")
	for name, xml := range map[string][]byte{"sample": out, "empty": write(t, func(w io.Writer) error { return JUnit(w, NewRun(nil, nil)) })} {
		cmd := exec.Command(lint, "--noout", "--nonet", "--schema", "testdata/surefire-test-report.xsd", "-")
		cmd.Stdin = bytes.NewReader(xml)
		if said, err := cmd.CombinedOutput(); err != nil {
			t.Errorf("%s: %v\n%s", name, err, said)
		}
	}
}

// lookPath finds a program that a test needs.
func lookPath(t *testing.T, name string) string {
	t.Helper()
	path, err := exec.LookPath(name)
	if err == nil {
		return path
	}
	if os.Getenv("OHMSTEAD_NO_SKIP") != "" {
		t.Fatalf("%s is missing, and OHMSTEAD_NO_SKIP forbids to skip", name)
	}
	t.Skipf("%s is missing", name)
	return ""
}

func validate(t *testing.T, schemaFile string, doc []byte) {
	t.Helper()
	c := jsonschema.NewCompiler()
	c.AssertFormat()
	s, err := c.Compile(filepath.Join("testdata", schemaFile))
	if err != nil {
		t.Fatal(err)
	}
	v, err := jsonschema.UnmarshalJSON(bytes.NewReader(doc))
	if err != nil {
		t.Fatal(err)
	}
	if err := s.Validate(v); err != nil {
		t.Errorf("%s: %v", schemaFile, err)
	}
}

// A schema that refuses nothing would prove nothing.
func TestSchemasRefuse(t *testing.T) {
	for name, doc := range map[string]string{
		"sarif-schema-2.1.0.json":  `{"version": "2.1.0", "runs": [{"results": []}]}`,
		"gitlab-code-quality.json": `[{"description": "x", "check_name": "y", "severity": "bad"}]`,
	} {
		c := jsonschema.NewCompiler()
		s, err := c.Compile(filepath.Join("testdata", name))
		if err != nil {
			t.Fatal(err)
		}
		v, err := jsonschema.UnmarshalJSON(strings.NewReader(doc))
		if err != nil {
			t.Fatal(err)
		}
		if s.Validate(v) == nil {
			t.Errorf("%s accepts %s", name, doc)
		}
	}
}

// What several plans found in one stock file is reported once.
func TestStockIsReportedOnce(t *testing.T) {
	n := 0
	for f := range sample().All {
		if f.Rule == "strip-odd" {
			n++
		}
	}
	if n != 1 {
		t.Errorf("the finding in stock is there %d times, want once", n)
	}
}

func TestFingerprints(t *testing.T) {
	finger := func(edit func(*lint.Finding)) []string {
		plan, at := samplePlan("plans/shelf")
		found := []lint.Finding{
			{Rule: "voltage-low", Subject: "run.a", At: at("run \"a\""), Message: "run.a: pixel 215 gets 3.71 V, below 4.0 V; use 14 AWG"},
			{Rule: "voltage-low", Subject: "run.a", At: at("length"), Message: "run.a: pixel 9 gets 380 mV, below 4.0 V; use 16 AWG"},
		}
		edit(&found[0])
		var out []string
		for f := range NewRun([]*Plan{Resolve(plan, found)}, nil).All {
			out = append(out, f.Fingerprint)
		}
		return out
	}
	base := finger(func(*lint.Finding) {})
	if base[0] == base[1] {
		t.Error("two findings that read alike have one fingerprint")
	}
	for _, c := range []struct {
		name string
		edit func(*lint.Finding)
		same bool
	}{
		{"another line", func(f *lint.Finding) { f.At.Start += 2 }, true},
		{"other numbers", func(f *lint.Finding) { f.Message = "run.a: pixel 7 gets 900 mV, below 4.50 V; use 14 AWG" }, true},
		{"other advice", func(f *lint.Finding) { f.Message = "run.a: pixel 215 gets 3.71 V, below 4.0 V; feed its end" }, true},
		{"another level", func(f *lint.Finding) { f.Level = lint.Error }, true},
		{"another case", func(f *lint.Finding) {
			f.Case, f.Message = "held", "run.a: pixel 215 gets 3.71 V in case held, below 4.0 V"
		}, false}, // the base names none
		{"another subject", func(f *lint.Finding) { f.Subject = "run.b" }, false},
		{"another rule", func(f *lint.Finding) { f.Rule = "drop-excess" }, false},
		{"other words", func(f *lint.Finding) { f.Message = "run.a: pixel 215 gets nothing" }, false},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := finger(c.edit)[0] == base[0]; got != c.same {
				t.Errorf("the same fingerprint: %t, want %t", got, c.same)
			}
		})
	}
}

// Which case or pattern is the worst may change tomorrow.
func TestFingerprintOfCase(t *testing.T) {
	plan, at := samplePlan("plans/shelf")
	var prints []string
	for _, c := range [][2]string{{"full", "in case full"}, {"held", "in case held"}, {"any", "under the ceilings (case any)"}, {"any", "with only run.a, run.b-2 lit (case any)"}} {
		run := NewRun([]*Plan{Resolve(plan, []lint.Finding{{Rule: "voltage-low", Subject: "run.a", At: at("run \"a\""), Case: c[0], Message: "run.a: pixel 215 gets 3.71 V " + c[1] + ", below 4.0 V"}})}, nil)
		prints = append(prints, findings(run)[0].Fingerprint)
	}
	if slices.Sort(prints); len(slices.Compact(prints)) != 1 {
		t.Errorf("the same finding in another case is another one: %v", prints)
	}
}

func everywhere(string) bool { return true }

func TestBaseline(t *testing.T) {
	run := sample()
	all := len(findings(run))
	b := NewBaseline(run, nil)
	if len(b.Known) != all {
		t.Fatalf("the baseline holds %d findings of %d", len(b.Known), all)
	}
	b = reread(t, b)
	if dead := b.Apply(run, "known.json", everywhere); len(dead) > 0 || len(findings(run)) > 0 || run.Known != all {
		t.Errorf("with its own baseline a run keeps %d findings and %d dead entries, %d known", len(findings(run)), len(dead), run.Known)
	}

	// One finding was mended: its entry is dead. Entries of plans that were not
	// judged are not.
	b.Known = append(b.Known, Known{Fingerprint: "elsewhere", Plan: "plans/other"})
	plans := samplePlans()
	plans[0].Findings = plans[0].Findings[1:]
	run = NewRun(plans, sampleRules)
	dead := b.Apply(run, "known.json", everywhere)
	if len(dead) != 1 || dead[0].Rule != "unit-missing" || dead[0].Plan != "plans/shelf" {
		t.Errorf("dead entries: %v, want the mended unit-missing of plans/shelf", dead)
	}
	// Written again, it forgets the dead one and keeps the other plan's.
	plans = samplePlans()
	plans[0].Findings = plans[0].Findings[1:]
	next := NewBaseline(NewRun(plans, sampleRules), b)
	if len(next.Known) != all {
		t.Errorf("the next baseline holds %d entries, want %d", len(next.Known), all)
	}
}

// An entry holds for its own plan, wherever that was moved, and not for a copy of
// it; what is worse than it was known to be is told.
func TestBaselineOfWhich(t *testing.T) {
	judged := func(dir string, got float64, members ...string) *Run {
		plan, at := samplePlan(dir)
		return NewRun([]*Plan{Resolve(plan, []lint.Finding{{Rule: "unit-missing", Level: lint.Error, Subject: "run.a", Members: members, At: at("run \"a\""),
			Message: "run.a: it gives 2 W", Value: &lint.Value{Got: got, Limit: 1, Unit: "W"}}})}, sampleRules)
	}
	for _, c := range []struct {
		name   string
		run    *Run
		isPlan bool // the directory that the baseline names is one still
		hidden int
	}{
		{"the plan itself", judged("plans/shelf", 2), true, 1},
		{"moved", judged("plans/attic", 2), false, 1},
		{"a copy", judged("plans/attic", 2), true, 0},
		{"farther from its limit", judged("plans/shelf", 3), true, 0},
		{"about more copies", judged("plans/shelf", 2, "run.a", "run.b"), true, 0},
	} {
		b := reread(t, NewBaseline(judged("plans/shelf", 2), nil))
		b.Apply(c.run, "known.json", func(string) bool { return c.isPlan })
		if got := len(c.run.Plans[0].Hidden); got != c.hidden || len(findings(c.run)) != 1-c.hidden {
			t.Errorf("%s: %d hidden, %d told; want %d hidden", c.name, got, len(findings(c.run)), c.hidden)
		}
		if c.hidden == 1 && !c.run.Plans[0].Hidden[0].Guard {
			t.Errorf("%s: nobody is told that a guard is hidden", c.name)
		}
	}
}

// A guard that is newly hidden fails in every form; what was hidden before is no news.
func TestNewlyHidden(t *testing.T) {
	run, was := sample(), sample()
	var guards []*Hidden
	for _, h := range was.Plans[0].Hidden {
		if !h.Guard {
			guards = append(guards, h)
		}
	}
	was.Plans[0].Hidden = guards
	run.KeepNew(was)
	if run.Failures() != 2 || len(run.Plans[0].Hidden) != 2 {
		t.Errorf("%d failures of %d hidden, want 2 of 2", run.Failures(), len(run.Plans[0].Hidden))
	}
	for name, c := range map[string]struct {
		to    func(io.Writer, *Run) error
		holds string
	}{
		"JUnit":  {JUnit, `<failure message="newly allowed by comment at`},
		"GitHub": {GitHub, "::error file=plans/shelf/plan%2C 50%25.ohm.hcl"},
		"GitLab": {GitLab, `"severity": "critical"`},
	} {
		if out := string(write(t, func(w io.Writer) error { return c.to(w, run) })); strings.Count(out, c.holds) != 2 {
			t.Errorf("%s does not hold %s twice:\n%s", name, c.holds, out)
		}
	}
	if run.KeepNew(sample()); run.Failures() != 0 || len(run.Plans[0].Hidden) != 0 {
		t.Errorf("what was hidden before is news: %d", run.Failures())
	}
}

func TestBaselineRefuses(t *testing.T) {
	for name, c := range map[string]struct{ text, want string }{
		"no JSON":          {"hello", "it is not a baseline"},
		"another version":  {`{"version": 9}`, "a baseline of version 9"},
		"another document": {`[1]`, "it is not a baseline"},
	} {
		if _, err := ReadBaseline([]byte(c.text)); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, want %q", name, err, c.want)
		}
	}
}

func reread(t *testing.T, b *Baseline) *Baseline {
	t.Helper()
	var text bytes.Buffer
	if err := b.Write(&text); err != nil {
		t.Fatal(err)
	}
	out, err := ReadBaseline(text.Bytes())
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(b, out); d != "" {
		t.Error(d)
	}
	return out
}

func findings(r *Run) []*Finding {
	var out []*Finding
	for f := range r.All {
		out = append(out, f)
	}
	return out
}

func TestStatistics(t *testing.T) {
	golden(t, "sample-statistics.txt", write(t, func(w io.Writer) error { return Statistics(w, sample()) }))
}

func TestChanges(t *testing.T) {
	got := changes("a\nb\nc\nd\ne\nf\ng\n", "a\nb\nc\nD\ne\nf\ng\nh\n")
	want := "  …\n  b\n  c\n- d\n+ D\n  e\n  f\n  g\n+ h\n"
	if d := cmp.Diff(want, got); d != "" {
		t.Error(d)
	}
}

// A rule found more often comes first, of equals the one whose name does.
func TestStatisticsOrder(t *testing.T) {
	f := source.Parse(source.NewText("p.ohm.hcl", []byte("a = 1\n")))
	plan := schema.Decode(".", []*source.File{f}, nil)
	var found []lint.Finding
	for i, rule := range []string{"b", "c", "a", "c"} {
		found = append(found, lint.Finding{Rule: rule, Level: lint.Hint, At: source.Span{Piece: f.Pieces[0], Start: i, End: i + 1}, Message: "here"})
	}
	run := NewRun([]*Plan{Resolve(plan, found)}, nil)
	var out strings.Builder
	if err := Statistics(&out, run); err != nil {
		t.Fatal(err)
	}
	var order []string
	for _, line := range strings.Split(strings.TrimSpace(out.String()), "\n")[1:] {
		f := strings.Fields(line)
		order = append(order, f[0]+f[len(f)-1])
	}
	if want := []string{"2c", "1a", "1b"}; !slices.Equal(order, want) {
		t.Errorf("%q, want %q", order, want)
	}
}

func TestSummary(t *testing.T) {
	run := sample()
	for _, c := range []struct {
		failOn lint.Level
		want   int
	}{{lint.Error, 5}, {lint.Warning, 10}, {lint.Hint, 14}, {lint.Off, 0}} {
		run.FailOn = c.failOn
		if got := run.Failures(); got != c.want {
			t.Errorf("fail on %s: %d failures, want %d", c.failOn, got, c.want)
		}
	}
}

// Of a plan that could not be judged nobody may read that nothing was found.
func TestSummaryTellsWhatWasMissed(t *testing.T) {
	r := NewRun(nil, nil)
	r.Missed = 1
	if got := r.Summary(); got != "0 plans: 1 plan could not be judged" {
		t.Error(got)
	}
}
