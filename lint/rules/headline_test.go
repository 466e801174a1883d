package rules

import (
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"golang.org/x/tools/txtar"

	"ohmstead/lint"
)

// An editor shows about 80 signs of a message beside the text. In every finding of every
// fixture a remedy that says what to write, by number or name, has its first way there;
// and nothing that a message says is lost.
func TestRemedyIsSeen(t *testing.T) {
	files, err := filepath.Glob("../../testdata/rules/*.txtar")
	if err != nil || len(files) < 100 {
		t.Fatalf("%d fixtures: %v", len(files), err)
	}
	told := regexp.MustCompile(`(?m)^\S+: (?:error|warning|hint) (\S+).*\n\t(.*)$`)
	remedy := regexp.MustCompile(`(?:^|: |; )((?:add|draw|feed|fit|give|lay|lead|leave|make|put|run|set|take|use|write) [^,;(]*?)(?:,|;|:| \(| or |$)`)
	exact := regexp.MustCompile(`[0-9"=]|\w\.\w`)
	counted, moved := 0, 0
	for _, file := range files {
		ar, err := txtar.ParseFile(file)
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range ar.Files {
			if f.Name != "findings" {
				continue
			}
			for _, m := range told.FindAllStringSubmatch(string(f.Data), -1) {
				rule, message := m[1], m[2]
				shown := lint.Headline(message)
				if shown != message {
					moved++
				}
				if len(shown) != len(message) {
					t.Errorf("%s: %q is shown as %q", rule, message, shown)
				}
				_, do, _ := strings.Cut(message, "; ")
				way := remedy.FindStringSubmatch("; " + do)
				if way == nil || !strings.HasPrefix("; "+do, way[0]) || !exact.MatchString(way[1]) {
					continue
				}
				counted++
				if at := strings.Index(shown, way[1]); at < 0 || len([]rune(shown[:at+len(way[1])])) > 80 {
					t.Errorf("%s: %q ends at %d of %q", rule, way[1], at+len(way[1]), shown)
				}
			}
		}
	}
	t.Logf("%d remedies say what to write; in %d messages the remedy comes first", counted, moved)
	if counted < 80 || moved < 50 {
		t.Error("that is too few to be a test")
	}
}
