package sheets

import (
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"ohmstead/lint/lists"
	"ohmstead/lint/sentences"
	"ohmstead/schema"
)

// Every sentence that the code and the page ask for is there, none is there for
// nothing, and what the code fills in is what the sentence has room for.
func TestSentences(t *testing.T) {
	all := sentences.Read(sentences.English)
	asked := map[string]bool{}
	ask := func(key string) bool {
		_, ok := all[key]
		asked[key] = asked[key] || ok
		return ok
	}
	for _, m := range regexp.MustCompile(`say "([^"]+)"`).FindAllStringSubmatch(pageText, -1) {
		if !ask(m[1]) {
			t.Errorf("there is no sentence %q", m[1])
		}
	}
	const root = "../../../../lint/"
	for _, d := range []struct{ dir, prefix string }{{".", ""}, {root + "lists", ""}, {root + "drawing", "draw."}} {
		files, err := filepath.Glob(d.dir + "/*.go")
		if err != nil || len(files) < 10 {
			t.Fatal(d.dir, len(files), err)
		}
		for _, name := range files {
			f, err := parser.ParseFile(token.NewFileSet(), name, nil, 0)
			if err != nil {
				t.Fatal(err)
			}
			if strings.HasSuffix(name, "_test.go") {
				continue
			}
			var begun []string // keys that are put together: their beginnings
			ast.Inspect(f, func(n ast.Node) bool {
				switch n := n.(type) {
				case *ast.BasicLit: // keys also stand in lists and variables
					if s, err := strconv.Unquote(n.Value); err == nil {
						ask(d.prefix + s)
					}
				case *ast.BinaryExpr:
					if s, ok := n.X.(*ast.BasicLit); ok && n.Op == token.ADD {
						s, _ := strconv.Unquote(s.Value)
						begun = append(begun, d.prefix+s)
					}
				case *ast.CallExpr:
					checkCall(t, n, d.prefix, all, ask)
				}
				return true
			})
			for key := range all {
				for _, b := range begun {
					if strings.HasSuffix(b, ".") && strings.HasPrefix(key, b) {
						asked[key] = true
					}
				}
			}
		}
	}
	for _, l := range lists.All { // titles of columns, by the list's name
		for _, c := range l.Of(worked(t, demo(t, "bookcase"))).Columns {
			ask(l.Name + "." + c.Key)
		}
	}
	for key := range all {
		if !asked[key] {
			t.Errorf("nobody says %q", key)
		}
	}
}

// checkCall looks whether a call that says a sentence, or counts, fits the catalogue.
func checkCall(t *testing.T, call *ast.CallExpr, prefix string, all map[string]string, ask func(string) bool) {
	name := ""
	switch f := call.Fun.(type) {
	case *ast.Ident:
		name = f.Name
	case *ast.SelectorExpr:
		if x, ok := f.X.(*ast.Ident); ok && x.Name == "sentences" {
			name = strings.ToLower(f.Sel.Name)
		}
	}
	literal := func(i int) (string, bool) {
		if i >= len(call.Args) {
			return "", false
		}
		l, ok := call.Args[i].(*ast.BasicLit)
		if !ok || l.Kind != token.STRING {
			return "", false
		}
		s, err := strconv.Unquote(l.Value)
		return s, err == nil
	}
	if noun, ok := literal(1); name == "count" && ok {
		if !ask("count."+noun) || !strings.Contains(all["count."+noun], " | ") {
			t.Errorf("nothing is counted by %q", noun)
		}
	}
	key, ok := literal(0)
	if name != "say" || !ok {
		return
	}
	key = prefix + key
	if !ask(key) {
		t.Errorf("there is no sentence %q", key)
	}
	var given, wanted []string
	for i := 1; i < len(call.Args); i += 2 {
		s, _ := literal(i)
		given = append(given, s)
	}
	for _, h := range regexp.MustCompile(`\{([a-z]+)\}`).FindAllStringSubmatch(all[key], -1) {
		wanted = append(wanted, h[1])
	}
	slices.Sort(given)
	slices.Sort(wanted)
	if wanted = slices.Compact(wanted); !slices.Equal(given, wanted) {
		t.Errorf("%s is given %q and has room for %q", key, given, wanted)
	}
}

// foreign is the catalogue in a language that writes no Latin letters.
func foreign() string {
	hole := regexp.MustCompile(`\{[a-z]+\}|[A-Za-z]+`)
	var b strings.Builder
	for key, text := range sentences.Read(sentences.English) {
		b.WriteString(key + " = " + hole.ReplaceAllStringFunc(text, func(word string) string {
			if word[0] == '{' {
				return word
			}
			return strings.Map(func(r rune) rune { return 'α' + (r|0x20)%17 }, word)
		}) + "\n")
	}
	return b.String()
}

// In another language nothing is left in English but what the plan says: every
// word stands in the catalogue.
func TestEveryWordStandsInTheCatalogue(t *testing.T) {
	sentences.Speak(foreign())
	defer sentences.Speak(sentences.English)
	own := regexp.MustCompile(`(?s)<style>.*?</style>|<[^>]*>|&[a-z]+;|&#[0-9]+;`)
	words := regexp.MustCompile(`[A-Za-z]{2,}`)
	known := map[string]bool{}
	know := func(text string) {
		for _, w := range words.FindAllString(text, -1) {
			known[strings.ToLower(w)] = true
		}
	}
	for _, p := range schema.Catalogue().Files {
		know(string(p.Text.Bytes()))
	}
	for _, b := range schema.Language {
		know(b.Name)
	}
	know("full held mm cm kg px AWG px/m Hz USD EUR µF " + // cases, units
		"ohmstead sheets only template margin " + // what is typed
		"out power port start end " + // places of the plan language
		"red black green blue white brown yellow orange violet grey pink turquoise silver gold") // of IEC 60757
	for _, name := range []string{"bookcase", "eave", "matrix", "porch-arch", "stair"} {
		text := demo(t, name)
		know(text)
		know(name)
		d := made(t, text, func(j *Job) { j.Stamp = Stamp{} })
		page, err := d.HTML()
		if err != nil {
			t.Fatal(err)
		}
		said := own.ReplaceAllString(string(page), "\n")
		for _, s := range d.Sheets {
			for _, b := range s.Blocks {
				if data, ok := b.(Data); ok {
					var csv strings.Builder
					if err := data.CSV(&csv); err != nil {
						t.Fatal(err)
					}
					said += csv.String()
				}
			}
		}
		for _, line := range strings.Split(said, "\n") {
			for _, w := range words.FindAllString(line, -1) {
				if !known[strings.ToLower(w)] && !digest.MatchString(w) {
					t.Errorf("%s: %q in %.200q stands in no catalogue", name, w, strings.TrimSpace(line))
				}
			}
		}
	}
}

var digest = regexp.MustCompile(`^[0-9A-F]+$`)

// What the plan says is put in as it is, whatever it looks like.
func TestSayOnce(t *testing.T) {
	if got := say("stamp.page.of", "page", "{pages}", "pages", "{page}"); got != "{pages} of {page}" {
		t.Errorf("%q", got)
	}
}

func TestLinesOfCellsEndBetweenWords(t *testing.T) {
	for in, want := range map[string]string{
		"1.5 mm²":                   "1.5\u00a0mm²",
		"3 px, 90 cm":               "3\u00a0px, 90\u00a0cm",
		"run.low-out-1.start":       `run.<wbr><span class="whole">low-out-1.</span><wbr>start`,
		"4.95":                      "4.95",
		"over the second data line": "over the second data line",
		`<b>"a"`:                    "&lt;b&gt;&#34;a&#34;",
		strings.Repeat("a-", 30):    strings.Repeat("a-", 30), // longer than a narrow screen
	} {
		if got := string(parted(in)); got != want {
			t.Errorf("%q becomes %q, want %q", in, got, want)
		}
	}
	for _, rule := range []string{"overflow-wrap: break-word", ".scroll { overflow-x: auto }"} {
		if !strings.Contains(pageStyle, rule) {
			t.Errorf("the style has no %q", rule)
		}
	}
}
