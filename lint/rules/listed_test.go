package rules

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

var ruleVar = regexp.MustCompile(`(?m)^var (\w+) = &lint\.Rule\{`)

// A rule that is not listed would not run, and a test of it alone would find
// nothing to do and pass.
func TestRulesAreListed(t *testing.T) {
	list, err := os.ReadFile("all.go")
	if err != nil {
		t.Fatal(err)
	}
	files, err := filepath.Glob("*.go")
	if err != nil {
		t.Fatal(err)
	}
	for _, file := range files {
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range ruleVar.FindAllStringSubmatch(string(text), -1) {
			if !strings.Contains(string(list), "\t"+m[1]+",\n") {
				t.Errorf("%s of %s is not in all.go; run: go generate ./cmd/gendocs", m[1], file)
			}
		}
	}
}
