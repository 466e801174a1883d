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
)

// Every sentence that the code and the page ask for is there, none is there for
// nothing, and what the code fills in is what the sentence has room for.
func TestSentences(t *testing.T) {
	asked := map[string]bool{}
	for _, k := range kinds {
		asked["sheet."+k.name], asked["sheet."+k.name+".for"] = true, true
	}
	for _, f := range LabelForms {
		asked["labels.how."+f] = true
	}
	page := regexp.MustCompile(`say "([^"]+)"`)
	for _, m := range page.FindAllStringSubmatch(pageText, -1) {
		asked[m[1]] = true
	}
	files, err := filepath.Glob("*.go")
	if err != nil {
		t.Fatal(err)
	}
	holes := regexp.MustCompile(`\{([a-z]+)\}`)
	look := func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.BasicLit: // keys also stand in lists and variables
			if s, err := strconv.Unquote(n.Value); err == nil {
				if _, ok := sentences()[s]; ok {
					asked[s] = true
				}
			}
		case *ast.CallExpr:
			f, ok := n.Fun.(*ast.Ident)
			if ok && f.Name == "count" {
				noun, _ := strconv.Unquote(n.Args[1].(*ast.BasicLit).Value)
				text, ok := sentences()["count."+noun]
				if !ok || !strings.Contains(text, " | ") {
					t.Errorf("nothing is counted by %q: %q", noun, text)
				}
				asked["count."+noun] = true
			}
			if !ok || f.Name != "say" {
				return true
			}
			key, ok := n.Args[0].(*ast.BasicLit)
			if !ok {
				return true
			}
			name, _ := strconv.Unquote(key.Value)
			text, ok := sentences()[name]
			if !ok {
				t.Errorf("there is no sentence %q", name)
			}
			asked[name] = true
			var given, wanted []string
			for i := 1; i < len(n.Args); i += 2 {
				s, _ := strconv.Unquote(n.Args[i].(*ast.BasicLit).Value)
				given = append(given, s)
			}
			for _, h := range holes.FindAllStringSubmatch(text, -1) {
				wanted = append(wanted, h[1])
			}
			for _, x := range given {
				if !slices.Contains(wanted, x) {
					t.Errorf("%s has no place for %q: %s", name, x, text)
				}
			}
			for _, x := range wanted {
				if !slices.Contains(given, x) {
					t.Errorf("%s is not given %q: %s", name, x, text)
				}
			}
		}
		return true
	}
	for _, name := range files {
		f, err := parser.ParseFile(token.NewFileSet(), name, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		if !strings.HasSuffix(name, "_test.go") {
			ast.Inspect(f, look)
		}
	}
	for key := range sentences() {
		if !asked[key] {
			t.Errorf("nobody says %q", key)
		}
	}
}

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
