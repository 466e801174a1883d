package rules

import (
	"bytes"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"ohmstead/lint"
	"ohmstead/lint/figures"
	"ohmstead/schema"
	"ohmstead/schema/source"
)

// The judged plans were decided from published values before any rule was tried
// on them. What is missed or refused is written down in verdicts.txt until a
// rule is mended; the line is then changed by hand.
func TestJudgedPlans(t *testing.T) {
	for root, least := range map[string]int{"../../testdata/judged": 40, "../../testdata/judged2": 30} {
		testJudged(t, root, least)
	}
}

// testJudged judges the plans under a root, which has so many of each kind at
// the least.
func testJudged(t *testing.T, root string, least int) {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(root, "verdicts.txt"))
	if err != nil {
		t.Fatal(err)
	}
	count := map[string]int{}
	listed := map[string]bool{}
	for line := range strings.Lines(string(text)) {
		head, rest, ok := strings.Cut(strings.TrimSpace(line), ":")
		words := strings.Fields(head)
		if !ok || len(words) != 3 {
			t.Fatalf("%q is no verdict", line)
		}
		dir, verdict := filepath.Join(root, words[0], words[1]), words[2]
		listed[dir] = true
		count[words[0]+" "+verdict]++
		var named []string // rules
		for _, w := range strings.Fields(rest) {
			if w != "-" && w != "only" {
				named = append(named, w)
			}
		}
		reported := judgedBy(t, dir)
		all := slices.Sorted(maps.Keys(reported))
		switch verdict {
		case "found":
			for _, r := range named {
				if !reported[r] {
					t.Errorf("%s: %s does not find it any more, only %v", dir, r, all)
				}
			}
		case "missed", "clean", "refused":
			slices.Sort(named)
			if !slices.Equal(named, all) {
				t.Errorf("%s: warnings and errors of %v, where %s was said of %v", dir, all, verdict, named)
			}
		default:
			t.Errorf("%q is no verdict", line)
		}
	}
	for _, kind := range []string{"hazard", "sound"} {
		dirs, err := filepath.Glob(filepath.Join(root, kind, "*"))
		if err != nil || len(dirs) < least {
			t.Fatalf("%d %s plans, %v", len(dirs), kind, err)
		}
		for _, dir := range dirs {
			if !listed[dir] {
				t.Errorf("%s has no verdict", dir)
			}
		}
	}
	t.Log(root, count)
}

// judgedBy gives the rules whose warnings and errors a plan has. Its second
// line names the source that decides it.
func judgedBy(t *testing.T, dir string) map[string]bool {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(dir, "plan.ohm.hcl"))
	if err != nil {
		t.Fatal(err)
	}
	if lines := bytes.SplitN(data, []byte("\n"), 3); len(lines) < 3 || len(lines[1]) < 20 || !bytes.HasPrefix(lines[1], []byte("# Source: ")) {
		t.Errorf("%s: its second line names no source", dir)
	}
	name := filepath.Base(dir)
	plan := schema.Decode(name, []*source.File{source.Parse(source.NewText(name+"/plan.ohm.hcl", data))}, nil)
	fig, err := figures.Work(t.Context(), plan, nil)
	if err != nil {
		t.Fatal(err)
	}
	found, err := lint.Run(t.Context(), plan, fig, All)
	if err != nil {
		t.Fatal(err)
	}
	out := map[string]bool{}
	for _, f := range found.Findings {
		if f.Level >= lint.Warning {
			out[f.Rule] = true
		}
	}
	return out
}
