package main

import (
	"bytes"
	"flag"
	"os"
	"regexp"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "rewrite golden parts")

var outputRegion = regexp.MustCompile("(?s)<!-- output of: ([^\n]*) -->\n(?:\n```console\n.*?\n```\n)?")

// The README shows what the commands print today.
func TestReadmeShowsRealOutput(t *testing.T) {
	t.Chdir("../..")
	have, err := os.ReadFile("README.md")
	if err != nil {
		t.Fatal(err)
	}
	regions := 0
	want := outputRegion.ReplaceAllFunc(have, func(region []byte) []byte {
		regions++
		line := string(outputRegion.FindSubmatch(region)[1])
		var out, errs bytes.Buffer
		if code := run(strings.Fields(line), strings.NewReader(""), &out, &errs); code > 1 {
			t.Fatalf("ohmstead %s: %s", line, errs.String())
		}
		return []byte("<!-- output of: " + line + " -->\n\n```console\n$ ohmstead " + line + "\n" + strings.TrimSpace(out.String()) + "\n```\n")
	})
	if regions < 2 {
		t.Fatalf("%d outputs in README.md", regions)
	}
	if bytes.Equal(have, want) {
		return
	}
	if !*update {
		t.Fatal("README.md shows other output than the commands give; run: go test ./cmd/ohmstead -run Readme -update")
	}
	if err := os.WriteFile("README.md", want, 0o644); err != nil {
		t.Fatal(err)
	}
}
