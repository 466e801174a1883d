package ide

import (
	"context"
	"encoding/base64"
	"encoding/xml"
	"flag"
	"fmt"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"golang.org/x/tools/txtar"

	"ohmstead/calc/quantity"
	"ohmstead/lint"
	"ohmstead/lint/figures"
	"ohmstead/lint/limits"
	"ohmstead/lint/remedy"
	"ohmstead/lint/rules"
	"ohmstead/schema"
	"ohmstead/schema/source"
)

var update = flag.Bool("update", false, "write the golden sections of the fixtures")

// TestFixtures runs the fixtures of testdata/lsp.
//
// A fixture is one txtar file: plan files, and golden sections. In a plan file
// a line such as
//
//	#@ hover("len|gth", length)
//
// asks about the next line that is not such a line: "|" is the cursor in a
// needle that stands once in that line, and the answer is the section
// "golden/length". Questions about a whole file have no needle. The lines are
// cut out before the text reaches the parser.
func TestFixtures(t *testing.T) {
	names, err := filepath.Glob("../../testdata/lsp/*.txtar")
	if err != nil || len(names) == 0 {
		t.Fatalf("no fixtures: %v", err)
	}
	for _, name := range names {
		t.Run(strings.TrimSuffix(filepath.Base(name), ".txtar"), func(t *testing.T) { runFixture(t, name) })
	}
}

// marker is one question in a fixture.
type marker struct {
	feature string
	args    []string
	golden  string
	path    string
	offset  int // of the cursor; -1 without a needle
	end     int // of the needle, where it holds two "|"
	at      string
}

var (
	markerLine = regexp.MustCompile(`^\s*#@ (\w+)\((.*)\)\s*$`)
	markerArg  = regexp.MustCompile("\\s*(\"(?:[^\"\\\\]|\\\\.)*\"|`[^`]*`|[\\w-]+)\\s*(?:,|$)")
)

func runFixture(t *testing.T, name string) {
	ar, err := txtar.ParseFile(name)
	if err != nil {
		t.Fatal(err)
	}
	fx, markers := loadFixture(t, ar)
	if len(markers) == 0 {
		t.Fatal("nothing is asked")
	}
	golden := map[string]int{}
	for i, f := range ar.Files {
		if g, ok := strings.CutPrefix(f.Name, "golden/"); ok {
			golden[g] = i
		}
	}
	used := map[string]bool{}
	changed := false
	for _, m := range markers {
		got := fx.answer(t, m)
		if got != "" && !strings.HasSuffix(got, "\n") {
			got += "\n"
		}
		if used[m.golden] {
			t.Errorf("%s: golden/%s is used twice", m.at, m.golden)
		}
		used[m.golden] = true
		i, ok := golden[m.golden]
		if !ok {
			if !*update {
				t.Errorf("%s: no section golden/%s", m.at, m.golden)
				continue
			}
			i = len(ar.Files)
			ar.Files = append(ar.Files, txtar.File{Name: "golden/" + m.golden})
			golden[m.golden] = i
			changed = true
		}
		if want := string(ar.Files[i].Data); want != got {
			if *update {
				ar.Files[i].Data, changed = []byte(got), true
				continue
			}
			t.Errorf("%s: %s (-want +got):\n%s", m.at, m.feature, cmp.Diff(want, got))
		}
	}
	for g := range golden {
		if !used[g] {
			if *update {
				ar.Files = slices.DeleteFunc(ar.Files, func(f txtar.File) bool { return f.Name == "golden/"+g })
				changed = true
				continue
			}
			t.Errorf("nothing asks for golden/%s", g)
		}
	}
	if changed {
		if err := os.WriteFile(name, txtar.Format(ar), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// fixture is the plans of a fixture.
type fixture struct {
	files map[string]*source.File
	order []string
	dirs  []string
	views map[string]*View
	past  map[string]map[string]*source.File // of earlier versions: "before" when all was judged last, "saved"
}

func loadFixture(t *testing.T, ar *txtar.Archive) (*fixture, []marker) {
	t.Helper()
	fx := &fixture{past: map[string]map[string]*source.File{"before": {}, "saved": {}}, files: map[string]*source.File{}, views: map[string]*View{}}
	var markers []marker
	for _, f := range ar.Files {
		if !strings.HasSuffix(f.Name, ".ohm.hcl") {
			continue
		}
		if version, name, ok := strings.Cut(f.Name, "/"); ok && fx.past[version] != nil {
			fx.past[version][name] = source.Parse(source.NewText(name, f.Data))
			continue
		}
		text, ms := cutMarkers(t, f.Name, string(f.Data))
		fx.add(f.Name, text)
		markers = append(markers, ms...)
	}
	return fx, markers
}

func (fx *fixture) add(name, text string) {
	fx.files[name] = source.Parse(source.NewText(name, []byte(text)))
	fx.order = append(fx.order, name)
	if d := path.Dir(name); !slices.Contains(fx.dirs, d) {
		fx.dirs = append(fx.dirs, d)
	}
}

// cutMarkers takes the questions out of a text.
func cutMarkers(t *testing.T, name, text string) (string, []marker) {
	t.Helper()
	var out strings.Builder
	var markers, waiting []marker
	for i, line := range strings.SplitAfter(text, "\n") {
		if m := markerLine.FindStringSubmatch(strings.TrimRight(line, "\r\n")); m != nil {
			mk := marker{feature: m[1], path: name, offset: -1, at: fmt.Sprintf("%s:%d", name, i+1)}
			for rest := m[2]; strings.TrimSpace(rest) != ""; {
				a := markerArg.FindStringSubmatch(rest)
				if a == nil || !strings.HasPrefix(rest, a[0]) {
					t.Fatalf("%s: cannot read %q", mk.at, rest)
				}
				rest = rest[len(a[0]):]
				arg := a[1]
				if arg[0] == '"' || arg[0] == '`' {
					s, err := strconv.Unquote(arg)
					if err != nil {
						t.Fatalf("%s: %v", mk.at, err)
					}
					arg = s
				}
				mk.args = append(mk.args, arg)
			}
			mk.golden = mk.args[len(mk.args)-1]
			mk.args = mk.args[:len(mk.args)-1]
			waiting = append(waiting, mk)
			continue
		}
		for _, mk := range waiting {
			if len(mk.args) > 0 && strings.Contains(mk.args[0], "|") {
				parts := strings.Split(mk.args[0], "|")
				needle := strings.Join(parts, "")
				if strings.Count(line, needle) != 1 && needle != "" {
					t.Fatalf("%s: %q stands %d times in %q", mk.at, needle, strings.Count(line, needle), line)
				}
				start := out.Len() + strings.Index(line, needle)
				if needle == "" {
					start = out.Len() + len(strings.TrimRight(line, "\r\n"))
				}
				mk.offset = start + len(parts[0])
				mk.end = mk.offset
				if len(parts) == 3 {
					mk.end += len(parts[1])
				}
				mk.args = mk.args[1:]
			}
			markers = append(markers, mk)
		}
		waiting = nil
		out.WriteString(line)
	}
	return out.String(), append(markers, waiting...)
}

// view makes the view of a file: of the plan in its directory or, for stock,
// of the first plan that uses it.
func (fx *fixture) view(name string) *View {
	if v, ok := fx.views[name]; ok {
		return v
	}
	dir := path.Dir(name)
	if strings.HasPrefix(name, schema.CataloguePath) {
		lib := schema.Catalogue().Whole()
		v := &View{Plan: lib, Figures: worked(lib), Rules: testRules}
		for _, f := range lib.Files {
			if f.Text.Path() == name {
				v.File = f
			}
		}
		return v
	}
	if !strings.Contains(fx.files[name].Text.String(), "plan \"") && dir != path.Dir(fx.order[0]) {
		dir = path.Dir(fx.order[0])
	}
	fetch := func(d string) ([]*source.File, error) { return fx.in(d), nil }
	p := schema.Decode(dir, fx.in(dir), fetch)
	fig := worked(p)
	v := &View{Plan: p, Figures: fig, Rules: testRules, File: fx.files[name], Dirs: func() []string { return fx.dirs }}
	v.Findings = judged(p, fig)
	v.Try = func(p *schema.Plan) (*figures.Figures, error) { return v.Figures.Try(context.Background(), p) }
	v.Bears = func(edits []schema.Edit, was map[string]string) (*figures.Figures, bool) {
		fig, ok, _ := remedy.New(p, v.Figures, nil, rules.All).Bears(context.Background(), edits, was)
		return fig, ok
	}
	v.Before = fx.version("before", dir, fetch)
	if f, ok := fx.past["saved"][name]; ok {
		v.Saved = fx.version("saved", dir, fetch)
		now, then := fx.files[name].Text.Bytes(), f.Text.Bytes()
		for v.Edited = len(now); now[v.Edited-1] == then[v.Edited-1-len(now)+len(then)]; {
			v.Edited--
		}
	}
	fx.views[name] = v
	return v
}

// version gives the figures of an earlier version of a directory; nil where there is none.
func (fx *fixture) version(name, dir string, fetch func(string) ([]*source.File, error)) *figures.Figures {
	var files []*source.File
	for _, n := range fx.order {
		if f := fx.past[name][n]; f != nil && path.Dir(n) == dir {
			files = append(files, f)
		}
	}
	if len(files) == 0 {
		return nil
	}
	return worked(schema.Decode(dir, files, fetch))
}

func (fx *fixture) in(dir string) []*source.File {
	var out []*source.File
	for _, n := range fx.order {
		if path.Dir(n) == dir {
			out = append(out, fx.files[n])
		}
	}
	return out
}

// testRules are what the fixtures are judged by: the rules of the language, and
// one that is computed. The real rules have tests of their own.
var testRules = func() []*lint.Rule {
	names := []string{
		schema.RuleSyntax, schema.RuleBlockUnknown, schema.RuleBlockShape, schema.RuleNameDuplicate, schema.RuleAttrUnknown, schema.RuleAttrMissing,
		schema.RuleAttrClash, schema.RuleValueKind, schema.RuleValueRange, schema.RuleValueUnknown, schema.RuleUnitMissing, schema.RuleUnitUnknown,
		schema.RuleDimension, schema.RuleRefUnknown, schema.RuleRefKind, schema.RuleRefCycle, schema.RuleFunction, schema.RuleStock, schema.RulePlanMissing,
		lint.RuleNameUnknown, lint.RuleUnpermitted, lint.RuleAllowBare, lint.RuleAllowUnused,
	}
	var out []*lint.Rule
	for _, n := range names {
		out = append(out, &lint.Rule{Name: n, Title: "Rule of the language: " + n, Level: lint.Error})
	}
	return append(out, &lint.Rule{
		Name: "run-long", Title: "A run is longer than two metres", Level: lint.Warning,
		Why: "Long runs sag.", Do: "Cut it in two.", Formula: "`l > 2 m`", Sources: []string{"made up for tests"},
		Check: func(p *lint.Pass) {
			for _, r := range p.Figures.Runs {
				if r.OK && r.Length > 2 {
					p.Report(lint.Finding{Subject: r.ID(), At: r.Head(), Message: r.ID() + " is " + quantity.Show(quantity.Length, r.Length) + " long", Value: &lint.Value{Got: r.Length, Limit: 2, Unit: "m"},
						Related: []lint.Related{{At: r.Strip.V.Head(), Message: "its strip"}},
						Fixes:   []lint.Fix{{Title: "Write it short", Grade: schema.GradeNotation, Edits: []lint.Edit{schema.InsertAttr(r.Node, "insert", `"slit"`)}}}})
				}
			}
		},
	})
}()

// judged judges a plan by the rules of the tests.
func judged(p *schema.Plan, fig *figures.Figures) []lint.Finding {
	v, _ := lint.Run(context.Background(), p, fig, testRules) // fails only where its context ends
	return v.Findings
}

var dataImage = regexp.MustCompile(`\(data:image/svg\+xml;base64,([^)]*)\)`)

// pictured is Markdown with what its pictures tell in their place.
func pictured(t *testing.T, markdown string) string {
	return dataImage.ReplaceAllStringFunc(markdown, func(image string) string {
		data, err := base64.StdEncoding.DecodeString(dataImage.FindStringSubmatch(image)[1])
		if err != nil {
			t.Error(err)
		}
		var svg struct {
			Title string `xml:"title"`
			Width string `xml:"width,attr"`
			Of    string `xml:"data-of,attr"`
		}
		if err := xml.Unmarshal(data, &svg); err != nil {
			t.Error(err)
		}
		return fmt.Sprintf("(svg of %s, %s wide: %s)", svg.Of, svg.Width, svg.Title)
	})
}

// answer asks one question and writes the answer down.
func (fx *fixture) answer(t *testing.T, m marker) string {
	t.Helper()
	v := fx.view(m.path)
	w := &writer{fx: fx, v: v}
	arg := func(i int) string {
		if i < len(m.args) {
			return m.args[i]
		}
		return ""
	}
	all := Range{0, v.File.Text.Len()}
	switch m.feature {
	case "hover":
		if h, ok := HoverAt(v, m.offset, cmpOr(arg(0), "full")); ok {
			w.line("%s", w.text(h.Range))
			w.line("%s", h.Markdown)
		}
	case "limits": // a hover when the limits have been worked out, by all rules; without a needle the lenses
		l := limits.New(v.Plan, v.Figures, rules.All)
		for _, k := range l.Knobs("") {
			if _, err := l.Find(t.Context(), k); err != nil {
				t.Fatal(err)
			}
		}
		v.Limits = l.Of
		if h, ok := HoverAt(v, max(m.offset, 0), "full"); ok && m.offset >= 0 {
			w.line("%s", w.text(h.Range))
			w.line("%s", h.Markdown)
		} else if m.offset < 0 {
			for _, x := range Lenses(v, LensesFor{Case: "full"}) {
				w.line("%s: %s", w.text(x.Range), x.Title)
			}
		}
		v.Limits = nil
	case "picture": // a hover with pictures; they are told by their titles and sizes
		v.Pictures = true
		if h, ok := HoverAt(v, m.offset, "full"); ok {
			w.line("%s", pictured(t, h.Markdown))
		}
		v.Pictures = false
	case "complete":
		items := Complete(v, m.offset)
		for i, it := range items {
			if strconv.Itoa(i) == arg(0) {
				w.line("… %s", map[bool]string{true: "more"}[i < len(items)])
				break
			}
			w.item(it)
		}
	case "labels": // only what the list shows, on one line
		var out []string
		for i, it := range Complete(v, m.offset) {
			if i == 12 {
				out = append(out, "…")
				break
			}
			out = append(out, it.Label)
		}
		w.line("%s", strings.Join(out, " "))
	case "accept": // the text after an item is taken
		w.accept(m, arg(0))
	case "entry": // of the catalogue, whose values may change
		for _, it := range Complete(v, m.offset) {
			if it.Label == arg(0) {
				doc := Resolve(v, Item{Key: it.Key}).Doc
				w.line("%s: values %v, source %v", firstLine(doc), strings.Contains(doc, "voltage "), strings.Contains(doc, "\nSource: "))
			}
		}
	case "resolve":
		for _, it := range Complete(v, m.offset) {
			if it.Label == arg(0) {
				w.line("%s", Resolve(v, Item{Key: it.Key, Label: it.Label, Doc: it.Doc}).Doc)
			}
		}
	case "signature":
		if s, ok := SignatureAt(v, m.offset); ok {
			w.line("%s", s.Label)
			for i, p := range s.Params {
				mark := " "
				if i == s.Active {
					mark = "*"
				}
				w.line("%s %s: %s", mark, s.Label[p.Start:p.End], p.Doc)
			}
			w.line("%s", s.Doc)
		}
	case "definition":
		w.targets(Definition(v, m.offset))
	case "typedefinition":
		w.targets(TypeDefinition(v, m.offset))
	case "references":
		for _, l := range References(v, m.offset, arg(0) == "declaration") {
			w.line("%s", w.location(l))
		}
	case "highlight":
		for _, h := range Highlights(v, m.offset) {
			w.line("%s %v", w.at(h.Range), map[bool]string{true: "write", false: "read"}[h.Write])
		}
	case "prepare":
		r, err := PrepareRename(v, m.offset)
		if err != nil {
			w.line("error: %v", err)
		} else {
			w.line("%s %s", w.at(r.Range), r.Name)
		}
	case "rename":
		edits, err := Rename(v, m.offset, arg(0))
		if err != nil {
			w.line("error: %v", err)
		} else {
			w.edits(edits)
		}
	case "symbols":
		w.symbols(Symbols(v), "")
	case "wsymbols":
		for _, s := range WorkspaceSymbols(v, arg(0)) {
			w.line("%s %s (%s) %s", symbolNames[s.Kind], s.Name, s.Container, w.location(s.Location))
		}
	case "folds":
		for _, f := range Folds(v) {
			w.line("%s-%d %s %q", w.at(f.Range), v.File.Text.OffsetPosition(f.End, 0).Line+1, [...]string{"block", "list", "text", "comment"}[f.Kind], f.Text)
		}
	case "selections":
		for _, r := range Selections(v, m.offset) {
			w.line("%s", clip(strings.ReplaceAll(w.text(r), "\n", "⏎")))
		}
	case "links":
		for _, l := range Links(v) {
			w.line("%s %q %s%s", w.at(l.Range), w.text(l.Range), l.Dir, l.URL)
		}
	case "format":
		w.edits(Format(v))
	case "formatrange":
		w.edits(FormatRange(v, Range{m.offset, m.end}))
	case "formattyped":
		w.edits(FormatTyped(v, m.offset, arg(0)))
	case "actions":
		for _, a := range Actions(v, Range{m.offset, m.end}) {
			solves := ""
			for _, i := range a.Solves {
				solves += " " + v.Findings[i].Rule
			}
			w.line("%s: %s%s%s", a.Kind, a.Title, map[bool]string{true: " (preferred)"}[a.Preferred], map[bool]string{true: " <-" + solves}[solves != ""])
		}
	case "action":
		list := Actions(v, Range{m.offset, m.end})
		i := slices.IndexFunc(list, func(a Action) bool { return a.Title == arg(0) })
		if i < 0 {
			w.line("not offered: %s", arg(0))
			break
		}
		w.edits(list[i].Edits)
	case "fixall":
		edits, solves := FixAllNotation(v, arg(0))
		w.line("solves %d", len(solves))
		w.edits(edits)
	case "lenses":
		for _, l := range Lenses(v, LensesFor{Case: cmpOr(arg(0), "full"), Figures: arg(1) == ""}) {
			w.line("%s: %s%s", w.text(l.Range), l.Title, strings.TrimRight(map[bool]string{true: " [" + string(l.Do) + " " + l.About}[l.Do != ""], " ")+map[bool]string{true: "]"}[l.Do != ""])
		}
	case "inlays":
		h := Hints{Pixels: true, Metres: true, Amps: true, Drop: true, Load: true, Lengths: true, Moved: true, Case: "full"}
		for _, off := range m.args {
			switch off {
			case "pixels":
				h.Pixels = false
			case "metres":
				h.Metres = false
			case "amps":
				h.Amps = false
			case "drop":
				h.Drop = false
			case "load":
				h.Load = false
			case "lengths":
				h.Lengths = false
			case "near":
				h.Near = true
			default:
				h.Case = off
			}
		}
		for _, x := range Inlays(v, all, h) {
			p := v.File.Text.OffsetPosition(x.Offset, 0)
			w.line("%s | %s", v.File.Text.Line(p.Line)[:p.Column], x.Label)
			if x.Insert != nil {
				w.line("  inserts %q", x.Insert[0].New)
			}
		}
	case "tokens":
		for tok := range Tokens(v, all) {
			var mods []string
			for i, n := range TokenModifiers {
				if tok.Modifiers&(1<<i) != 0 {
					mods = append(mods, n)
				}
			}
			w.line("%s %s %s", w.text(Range{tok.Start, tok.Start + tok.Length}), TokenTypes[tok.Type], strings.Join(mods, ","))
		}
	case "colours":
		for _, c := range Colours(v) {
			w.line("%s %s %.3f %.3f %.3f", w.at(c.Range), w.text(c.Range), c.Red, c.Green, c.Blue)
			for _, e := range ColourTexts(v, c.Range, c.Red, c.Green, c.Blue) {
				w.line("  %s", e.New)
			}
		}
	case "flow":
		for _, p := range PartAt(v, m.offset) {
			w.line("%s (%s) %s", p.ID, p.Detail, w.location(p.Name))
			for _, f := range FedBy(v, p.ID) {
				w.flow("fed by", f)
			}
			for _, f := range Feeds(v, p.ID) {
				w.flow("feeds", f)
			}
		}
	case "diagnostics":
		level := lint.Hint
		if l, ok := lint.LevelNamed(arg(0)); ok {
			level = l
		}
		for _, d := range Diagnostics(v, level) {
			message := d.Message
			if d.Code != "run-long" {
				message = "…" // the rules of the language have tests of their own
			}
			w.line("%s %s %s: %s%s", w.location(d.Location), d.Level, d.Code, message, map[bool]string{true: " (unnecessary)"}[d.Unnecessary])
			for _, r := range d.Related {
				w.line("  %s: %s", w.location(r.Location), r.Message)
			}
		}
	default:
		t.Fatalf("%s: there is no feature %q", m.at, m.feature)
	}
	return w.String()
}

func cmpOr(s, other string) string {
	if s == "" {
		return other
	}
	return s
}

type writer struct {
	strings.Builder
	fx *fixture
	v  *View
}

func (w *writer) line(format string, args ...any) {
	w.WriteString(strings.TrimRight(fmt.Sprintf(format, args...), " ") + "\n")
}

func (w *writer) text(r Range) string { return string(w.v.File.Text.Bytes()[r.Start:r.End]) }

func (w *writer) at(r Range) string {
	p := w.v.File.Text.OffsetPosition(r.Start, 0)
	return fmt.Sprintf("%d:%d", p.Line+1, p.Column+1)
}

func (w *writer) location(l Location) string {
	f := w.fx.files[l.Path]
	if f == nil {
		for _, c := range schema.Catalogue().Files {
			if c.Text.Path() == l.Path {
				// The catalogue changes; only that it is found matters.
				return fmt.Sprintf("%s %q", l.Path, firstLine(string(c.Text.Bytes()[l.Start:l.End])))
			}
		}
		return l.Path + " ?"
	}
	p := f.Text.OffsetPosition(l.Start, 0)
	return fmt.Sprintf("%s:%d:%d %q", l.Path, p.Line+1, p.Column+1, firstLine(string(f.Text.Bytes()[l.Start:l.End])))
}

func (w *writer) item(it Item) {
	text := it.Text
	if it.Snippet != "" {
		text = it.Snippet
	}
	var notes []string
	for _, s := range []string{it.Detail, it.Note} {
		if s != "" {
			notes = append(notes, s)
		}
	}
	if it.Again {
		notes = append(notes, "again")
	}
	if it.Worse {
		notes = append(notes, "worse")
	}
	w.line("%s | %q -> %q | %s", it.Label, w.text(it.Range), text, strings.Join(notes, "; "))
}

// accept writes the line after an item was taken.
func (w *writer) accept(m marker, label string) {
	for _, it := range Complete(w.v, m.offset) {
		if it.Label != label {
			continue
		}
		text := w.v.File.Text.Edit(it.Start, it.End, []byte(it.Text))
		w.line("%s", text.Line(text.OffsetPosition(it.Start, 0).Line))
		return
	}
	w.line("no such item")
}

func (w *writer) targets(ts []Target) {
	for _, t := range ts {
		w.line("%s -> %s", w.text(t.Origin), w.location(t.Name))
	}
}

// edits writes the lines that edits change, after the change.
func (w *writer) edits(edits []TextEdit) {
	byPath := map[string][]TextEdit{}
	var paths []string
	for _, e := range edits {
		if byPath[e.Path] == nil {
			paths = append(paths, e.Path)
		}
		byPath[e.Path] = append(byPath[e.Path], e)
	}
	for _, name := range paths {
		es := byPath[name]
		slices.SortStableFunc(es, func(a, b TextEdit) int { return b.Start - a.Start })
		t := w.fx.files[name].Text
		for _, e := range es {
			t = t.Edit(e.Start, e.End, []byte(e.New))
		}
		w.line("%s, %s:", name, quantity.Count(len(es), "edit"))
		w.diff(w.fx.files[name].Text.String(), t.String())
	}
}

// diff writes the lines that differ, by the longest common subsequence.
func (w *writer) diff(before, after string) {
	a, b := strings.Split(before, "\n"), strings.Split(after, "\n")
	lcs := make([][]int, len(a)+1)
	for i := range lcs {
		lcs[i] = make([]int, len(b)+1)
	}
	for i := len(a) - 1; i >= 0; i-- {
		for j := len(b) - 1; j >= 0; j-- {
			if a[i] == b[j] {
				lcs[i][j] = lcs[i+1][j+1] + 1
			} else {
				lcs[i][j] = max(lcs[i+1][j], lcs[i][j+1])
			}
		}
	}
	show := func(s string) string { return strings.ReplaceAll(s, "\r", "␍") }
	for i, j := 0, 0; i < len(a) || j < len(b); {
		switch {
		case i < len(a) && j < len(b) && a[i] == b[j]:
			i, j = i+1, j+1
		case j == len(b) || i < len(a) && lcs[i+1][j] >= lcs[i][j+1]:
			w.WriteString("- " + show(a[i]) + "\n")
			i++
		default:
			w.WriteString("+ " + show(b[j]) + "\n")
			j++
		}
	}
}

var symbolNames = map[SymbolKind]string{
	PlanSymbol: "plan:", SettingSymbol: "setting:", PartSymbol: "part:", SurfaceSymbol: "surface:", PowerSymbol: "power:",
	ControlSymbol: "control:", RunSymbol: "run:", OrderSymbol: "order:", CaseSymbol: "case:", LetSymbol: "let:", AttributeSymbol: "attribute:",
}

func (w *writer) symbols(ss []Symbol, indent string) {
	for _, s := range ss {
		w.line("%s%s %s | %s | %s", indent, symbolNames[s.Kind], s.Name, w.text(s.Selected), s.Detail)
		w.symbols(s.Children, indent+"  ")
	}
}

func (w *writer) flow(how string, f Flow) {
	w.line("  %s %s (%s)", how, f.ID, f.Detail)
	for _, l := range f.Through {
		w.line("    %s", w.location(l))
	}
}
