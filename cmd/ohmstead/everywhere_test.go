package main

import (
	"bytes"
	"context"
	"encoding/json"
	"flag"
	"fmt"
	"maps"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"ohmstead/calc/thorough"
	"ohmstead/cmd/ohmstead/internal/shown"
	"ohmstead/lint"
	"ohmstead/lint/figures"
	"ohmstead/lint/layout"
	"ohmstead/lint/remedy"
	"ohmstead/lint/rules"
	"ohmstead/lsp/ide"
	"ohmstead/schema"
	"ohmstead/schema/bigplan"
	"ohmstead/schema/source"
)

var oneIn = flag.Int("one-in", thorough.Or(16, 50), "of so many changes that an editor offers, one is tried")

var onlyThose = flag.String("only", "", "of the changes that an editor offers, only those are tried whose words this regular expression finds")

// everywhere counts what was done at every place of plans, and what came out wrong.
type everywhere struct {
	testing.TB
	memo    *figures.Memo
	r       *rand.Rand
	one     int            // of so many changes one is tried, at one place in five of them
	applied map[string]int // by what it is
	wrong   map[string]int
}

// read is a plan as it is read and judged.
type read struct {
	name  string
	texts map[string]string
	plan  *schema.Plan
	fig   *figures.Figures
	found []lint.Finding
	shown string // what show prints as JSON
}

func (e *everywhere) read(name string, texts map[string]string) *read {
	e.Helper()
	out := &read{name: name, texts: texts}
	var files []*source.File
	for _, path := range slices.Sorted(maps.Keys(texts)) {
		files = append(files, source.Parse(source.NewText(path, []byte(texts[path]))))
	}
	out.plan = schema.Decode("demo", files, nil)
	var err error
	if out.fig, err = figures.Work(context.Background(), out.plan, e.memo); err != nil {
		e.Fatal(err)
	}
	verdict, err := lint.Run(context.Background(), out.plan, out.fig, rules.All)
	if err != nil {
		e.Fatal(err)
	}
	out.found = verdict.Findings
	data, err := json.Marshal(shown.Of(out.fig, 0, false))
	if err != nil {
		e.Fatal(err)
	}
	out.shown = string(data)
	return out
}

// ills counts what is found, by rule and subject, from a level on.
func (p *read) ills(least lint.Level, language bool) map[[2]string]int {
	out := map[[2]string]int{}
	for _, f := range p.found {
		if f.Level >= least && (!language || !silenceable(f.Rule)) {
			out[[2]string{f.Rule, f.Subject}]++
		}
	}
	return out
}

func silenceable(rule string) bool {
	i := slices.IndexFunc(rules.All, func(r *lint.Rule) bool { return r.Name == rule })
	return i >= 0 && rules.All[i].Silenceable()
}

// views gives the view of each file, with remedies that were tried.
func (p *read) views() (out []*ide.View) {
	trials := remedy.New(p.plan, p.fig, p.found, rules.All)
	for _, f := range p.plan.Files {
		out = append(out, &ide.View{Plan: p.plan, Figures: p.fig, Findings: p.found, Rules: rules.All, File: f, NewFiles: true,
			Remedies: func(i int) []lint.Fix { fixes, _ := trials.For(context.Background(), i); return fixes },
			Try:      func(q *schema.Plan) (*figures.Figures, error) { return p.fig.Try(context.Background(), q) },
			Bears: func(edits []schema.Edit, was map[string]string) (*figures.Figures, bool) {
				fig, ok, _ := trials.Bears(context.Background(), edits, was)
				return fig, ok
			}})
	}
	return out
}

// with is the texts after some edits.
func (p *read) with(edits []ide.TextEdit) (map[string]string, error) {
	out := maps.Clone(p.texts)
	edits = slices.Clone(edits)
	slices.SortStableFunc(edits, func(a, b ide.TextEdit) int { return b.Start - a.Start })
	last := map[string]int{}
	for _, x := range edits {
		text := out[x.Path] // a file that there is not yet is empty
		if at, ok := last[x.Path]; x.End > len(text) || ok && x.End > at {
			return nil, fmt.Errorf("edits overlap or lie outside: %v", edits)
		}
		last[x.Path] = x.Start
		out[x.Path] = text[:x.Start] + x.New + text[x.End:]
	}
	return out, nil
}

// kindOf is what a change is counted as.
func kindOf(a ide.Action) string {
	title := regexp.MustCompile(`"[^"]*"|\b[a-z_]+\.[\w.-]+|\d[\w.]*`).ReplaceAllString(a.Title, "…")
	words := strings.Fields(title)
	return a.Kind + ": " + strings.Join(words[:min(len(words), 3)], " ")
}

// change applies a change and says what is wrong with what comes of it, by a check of its own.
func (e *everywhere) change(p *read, what, kind string, edits []ide.TextEdit, check func(*read) []string) {
	e.Helper()
	if !regexp.MustCompile(*onlyThose).MatchString(what) {
		return
	}
	if e.r.IntN(min(e.one, 5)) > 0 {
		return
	}
	e.applied[kind]++
	texts, err := p.with(edits)
	var wrong []string
	if err != nil {
		wrong = append(wrong, err.Error())
	} else {
		for path, text := range texts {
			if was, err := layout.Format([]byte(p.texts[path])); err != nil || string(was) != p.texts[path] {
				continue
			}
			if now, err := layout.Format([]byte(text)); err != nil {
				wrong = append(wrong, "does not parse: "+err.Error())
			} else if string(now) != text {
				wrong = append(wrong, "leaves text that is not laid out: "+difference(text, string(now)))
			}
		}
		after := e.read(p.name, texts)
		for k, n := range after.ills(lint.Hint, true) {
			if k[0] == schema.RuleSyntax && n > p.ills(lint.Hint, true)[k] {
				wrong = append(wrong, "breaks the syntax")
			}
		}
		wrong = append(wrong, check(after)...)
	}
	if len(wrong) == 0 {
		return
	}
	if e.wrong[kind]++; e.wrong[kind] > 3 {
		return
	}
	e.Errorf("%s: %s: %s\n%s", p.name, what, strings.Join(wrong, "; "), changedLines(p.texts, texts))
}

// changedLines prints the lines that differ between two states of some files.
func changedLines(before, after map[string]string) string {
	var b strings.Builder
	for _, path := range slices.Sorted(maps.Keys(after)) {
		if before[path] == after[path] {
			continue
		}
		old, now := strings.Split(before[path], "\n"), strings.Split(after[path], "\n")
		start, end := 0, 0
		for start < min(len(old), len(now)) && old[start] == now[start] {
			start++
		}
		for end < min(len(old), len(now))-start && old[len(old)-1-end] == now[len(now)-1-end] {
			end++
		}
		fmt.Fprintf(&b, "%s:%d\n- %s\n+ %s\n", path, start+1, strings.Join(old[start:len(old)-end], "\n- "), strings.Join(now[start:len(now)-end], "\n+ "))
	}
	return b.String()
}

func difference(a, b string) string {
	return strings.ReplaceAll(changedLines(map[string]string{"": a}, map[string]string{"": b}), "\n", " ")
}

// same says how another plan differs from one, once its new names are taken back, and lists
// are in the order of some keys.
func (p *read) same(renamed map[string]string, by ...string) func(*read) []string {
	return func(after *read) (wrong []string) {
		back := func(s string) string {
			for now, was := range renamed {
				s = strings.ReplaceAll(s, now, was)
			}
			return s
		}
		var a, b any
		if json.Unmarshal([]byte(p.shown), &a) != nil || json.Unmarshal([]byte(back(after.shown)), &b) != nil {
			return []string{"what is shown is no JSON"}
		}
		if where, ok := alike(ordered(a, by), ordered(b, by)); !ok {
			wrong = append(wrong, "shows something else at "+where)
		}
		found := func(p *read) (out []string) {
			for _, f := range p.found {
				out = append(out, f.Rule+" "+back(f.Subject))
			}
			slices.Sort(out)
			return out
		}
		if x, y := found(p), found(after); !slices.Equal(x, y) {
			wrong = append(wrong, fmt.Sprintf("finds %v, was %v", y, x))
		}
		return wrong
	}
}

// ordered puts lists of JSON objects in the order of some of their keys.
func ordered(a any, by []string) any {
	switch a := a.(type) {
	case map[string]any:
		for k := range a {
			a[k] = ordered(a[k], by)
		}
	case []any:
		for i := range a {
			a[i] = ordered(a[i], by)
		}
		for _, k := range by {
			slices.SortStableFunc(a, func(x, y any) int { return strings.Compare(keyOf(x, k), keyOf(y, k)) })
		}
	}
	return a
}

// keyOf is what a JSON value is called: an object by a key, a text by itself.
func keyOf(x any, key string) string {
	if object, ok := x.(map[string]any); ok {
		x = object[key]
	}
	text, _ := x.(string)
	return text
}

// alike compares JSON values, numbers to a part in a million.
func alike(a, b any) (string, bool) {
	switch a := a.(type) {
	case map[string]any:
		b, ok := b.(map[string]any)
		if !ok || len(a) != len(b) {
			return "", false
		}
		for k := range a {
			if where, ok := alike(a[k], b[k]); !ok {
				return "." + k + where, false
			}
		}
		return "", true
	case []any:
		b, ok := b.([]any)
		if !ok || len(a) != len(b) {
			return "", false
		}
		for i := range a {
			if where, ok := alike(a[i], b[i]); !ok {
				return fmt.Sprintf("[%d]%s", i, where), false
			}
		}
		return "", true
	case float64:
		b, ok := b.(float64)
		return "", ok && math.Abs(a-b) <= 1e-6*max(math.Abs(a), math.Abs(b), 1e-3)
	}
	return fmt.Sprintf(": %v, was %v", b, a), a == b
}

// solves says what a fix does not keep of what it promises: what it solves is there as before, or something worse has come.
func (p *read) solves(a ide.Action) func(*read) []string {
	return func(after *read) (wrong []string) {
		language := false
		before, now := p.ills(lint.Hint, false), after.ills(lint.Hint, false)
		for _, i := range a.Solves {
			f := p.found[i]
			language = language || !silenceable(f.Rule)
			// Names may change with a fix, so a block that is gone has nothing.
			if k := [2]string{f.Rule, f.Subject}; now[k] >= before[k] {
				wrong = append(wrong, fmt.Sprintf("leaves %s of %s", f.Rule, f.Subject))
			}
		}
		before = p.ills(lint.Warning, language)
		for k, n := range after.ills(lint.Warning, language) {
			if n > before[k] && !slices.ContainsFunc(a.Solves, func(i int) bool { return language && p.found[i].Subject == k[1] }) {
				wrong = append(wrong, fmt.Sprintf("adds %s of %s", k[0], k[1]))
			}
		}
		return wrong
	}
}

// ends are the bounds of all words of a text: what is offered changes only there.
var ends = regexp.MustCompile(`[\w-]+|\S|\n`)

// all does everything at every place of a plan.
func (e *everywhere) all(name string, texts map[string]string) {
	e.Helper()
	p := e.read(name, texts)
	e.sizes(p)
	for _, v := range p.views() {
		text := v.File.Text.String()
		seen := map[string]bool{}
		var places []int
		for _, m := range ends.FindAllStringIndex(text, -1) {
			places = append(places, m[0], m[1])
		}
		for _, at := range slices.Compact(places) {
			if e.r.IntN(max(1, e.one/5)) > 0 {
				continue
			}
			for _, a := range ide.Actions(v, ide.Range{Start: at, End: at}) {
				key := a.Title + fmt.Sprint(a.Edits)
				if seen[key] {
					continue
				}
				seen[key] = true
				check := p.solves(a)
				rewired, wiring := p.rewired(a)
				switch {
				case wiring:
					check = rewired
				case strings.HasSuffix(a.Title, "(rounded)"):
					check = func(after *read) []string { return p.sameText(after, a.Edits) }
				case a.Kind == ide.RefactorMove:
					check = p.same(nil, "run", "id", "name")
				case a.Kind != ide.QuickFix && a.Kind != ide.FixAll:
					check = p.same(a.Renames)
				}
				for i := range a.Edits { // whoever takes it writes the reason
					a.Edits[i].New = strings.Replace(a.Edits[i].New, "REASON", "it was measured", 1)
				}
				e.change(p, fmt.Sprintf("%q at %d", a.Title, at), kindOf(a), a.Edits, check)
			}
			if r, err := ide.PrepareRename(v, at); err == nil && !seen[fmt.Sprint("rename", r.Range)] {
				seen[fmt.Sprint("rename", r.Range)] = true
				edits, err := ide.Rename(v, at, "quite-another")
				if err != nil {
					e.Errorf("%s: rename %s: %v", name, r.Name, err)
				}
				if key := fmt.Sprint(edits); seen[key] { // as from another place that names it
					continue
				} else {
					seen[key] = true
				}
				e.change(p, "rename "+r.Name, "rename", edits, p.same(map[string]string{"quite-another": r.Name}))
			}
		}
		for _, edits := range [][]ide.TextEdit{ide.Format(v), ide.FormatRange(v, ide.Range{Start: len(text) / 3, End: len(text) / 2})} {
			if len(edits) > 0 {
				e.change(p, "format", "format", edits, p.same(nil))
			}
		}
		e.completes(p, v)
		e.types(p, v)
		if edits, solves := ide.FixAllNotation(v, ""); len(edits) > 0 {
			e.change(p, "fix all", "fix all", edits, p.solves(ide.Action{Edits: edits, Solves: solves}))
		}
	}
}

// sameText says whether nothing but the edited values is found or lost: a rounded value may move what is figured.
func (p *read) sameText(after *read, edits []ide.TextEdit) []string {
	if len(edits) != 1 || !maps.Equal(p.ills(lint.Hint, true), after.ills(lint.Hint, true)) {
		return []string{"is not one edit, or makes a mistake"}
	}
	return nil
}

// demos reads the plans below some folders of testdata.
func demos(t testing.TB, globs ...string) map[string]string {
	t.Helper()
	out := map[string]string{}
	for _, g := range globs {
		files, err := filepath.Glob(g)
		if err != nil || len(files) == 0 {
			t.Fatalf("%s: no plans: %v", g, err)
		}
		for _, f := range files {
			data, err := os.ReadFile(f)
			if err != nil {
				t.Fatal(err)
			}
			out[filepath.Base(filepath.Dir(f))] = string(data)
		}
	}
	return out
}

// inner is where a lead feeds the start of a run.
var inner = regexp.MustCompile(`(?m)(^lead "r.*\n.*\n  to     = )(run\.\w+)\.start$`)

// spoilt plants mistakes of the language in a text.
func spoilt(r *rand.Rand, text string) string {
	slips := []struct{ right, wrong string }{
		{`"(\d+)\.(\d+) (m|A|mm2)"`, `"$1,$2 $3"`},
		{`= (wire|strip)\.([\w-]+)`, `= $2`},
		{`= (run|wire|strip|supply)\.([\w-]+)`, `= $1.${2}x`},
		{`\["230 V"\]`, `"230 V"`},
		{`(?m)^lead `, "# ohmstead: allow bend-tight because it once was\nlead "},
		{`(?m)^  (wire|strip|length|from|to|kind|rating) .*\n`, ``},
		{`"(\d+) (m|A|V|cm)"`, `"$1"`},
		{`(?m)^  (length|rating|strip) `, `  ${1}s `},
		{`"(\d+) A"`, `"$1 W"`},
		{`(?m)^(lead|signal|wire|run) "`, `${1}s "`},
	}
	for range 1 + r.IntN(2) {
		slip := slips[r.IntN(len(slips))]
		re := regexp.MustCompile(slip.right)
		places := re.FindAllStringIndex(text, -1)
		if len(places) == 0 {
			continue
		}
		m := places[r.IntN(len(places))]
		text = text[:m[0]] + re.ReplaceAllString(text[m[0]:m[1]], slip.wrong) + text[m[1]:]
	}
	return text
}

// Everything that an editor offers to change is done at every place of the demo plans and of random ones: what comes out
// parses, is laid out, and says the same, or what the action says. With -tags long -one-in 1 nothing is left out.
func TestActionsEverywhere(t *testing.T) {
	e := &everywhere{TB: t, r: rand.New(rand.NewPCG(11, 7)), one: *oneIn, applied: map[string]int{}, wrong: map[string]int{}}
	plans := demos(t, "../../testdata/plans/*/plan.ohm.hcl", "../../testdata/shortforms/*/plan.ohm.hcl")
	for _, name := range slices.Sorted(maps.Keys(plans)) {
		if !thorough.On && name != "porch-arch" && name != "word" {
			continue
		}
		e.memo = figures.NewMemo()
		e.all(name, inFiles(plans[name], 1+len(name)%3))
	}
	for i := range thorough.Or(200, 6) {
		text := bigplan.Random(e.r)
		if i%2 == 1 {
			text = spoilt(e.r, text)
		}
		if i%3 == 0 { // fed within, not at the start
			text = inner.ReplaceAllString(text, `$1$2[12]`)
		}
		if i%4 < 2 { // half are laid out: then they stay so
			if laid, err := layout.Format([]byte(text)); err == nil {
				text = string(laid)
			}
		}
		if i%5 == 4 {
			text = strings.ReplaceAll(text, "\n", "\r\n")
		}
		e.memo = figures.NewMemo()
		e.all("random "+strconv.Itoa(i), inFiles(text, 1+i%7%3))
	}
	e.memo, e.one = figures.NewMemo(), 200**oneIn
	e.all("wall", map[string]string{"demo/plan.ohm.hcl": bigplan.Wall(1)})
	applied, wrong := 0, 0
	var b bytes.Buffer
	for _, kind := range slices.Sorted(maps.Keys(e.applied)) {
		applied, wrong = applied+e.applied[kind], wrong+e.wrong[kind]
		fmt.Fprintf(&b, "\n%6d applied, %3d wrong: %s", e.applied[kind], e.wrong[kind], kind)
	}
	t.Logf("%d changes applied, %d wrong%s", applied, wrong, b.String())
}
