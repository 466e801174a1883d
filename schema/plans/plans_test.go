package plans

import (
	"fmt"
	"io/fs"
	"slices"
	"strings"
	"testing"
	"testing/fstest"
)

// treeOf makes a tree of files by path.
func treeOf(files map[string]string) fstest.MapFS {
	tree := fstest.MapFS{}
	for name, text := range files {
		tree[name] = &fstest.MapFile{Data: []byte(text), Mode: 0o644}
	}
	return tree
}

func TestUsers(t *testing.T) {
	at := New(treeOf(map[string]string{
		"a/plan.ohm.hcl":       `plan "a" { stock = ["../shop"] }`,
		"a/more.ohm.hcl":       `run "x" {}`,
		"b/plan.ohm.hcl":       "plan \"b\" {\n  stock = [\n    \"../annex\", # more\n  ]\n}\n",
		"c/plan.ohm.hcl":       `plan "c" {}`,
		"ring/plan.ohm.hcl":    `plan "ring" { stock = ["../ring", "../ring2"] }`,
		"ring2/plan.ohm.hcl":   `plan "ring2" { stock = ["../ring", "../shop"] }`,
		"annex/plan.ohm.hcl":   `plan "annex" { stock = ["../attic"] }`,
		"shop/parts.ohm.hcl":   `wire "w" { gauge = "16 AWG" }`,
		"attic/parts.ohm.hcl":  `wire "w" { gauge = "16 AWG" }`,
		"broken/plan.ohm.hcl":  "run \"x\" {\n  stock = [\n",
		"empty/plan.ohm.hcl":   "# nothing yet\n",
		".hidden/plan.ohm.hcl": `plan "hidden" {}`,
	}))
	plans, err := at.Plans()
	if err != nil {
		t.Fatal(err)
	}
	if got, want := fmt.Sprint(plans), "[a annex b broken c empty ring ring2]"; got != want {
		t.Errorf("plans %s, want %s", got, want)
	}
	for _, c := range []struct {
		changed []string
		want    string
	}{
		{nil, "[]"},
		{[]string{"c"}, "[c]"},
		{[]string{"shop"}, "[a ring ring2]"},
		{[]string{"attic"}, "[annex b]"},
		{[]string{"annex"}, "[annex b]"},
		{[]string{"ring"}, "[ring ring2]"},
		{[]string{"nowhere"}, "[]"},
	} {
		var files []string
		for _, d := range c.changed {
			files = append(files, d+"/x.ohm.hcl")
		}
		if got, err := at.Touched(files); err != nil || fmt.Sprint(got) != c.want {
			t.Errorf("a change of %v touches %s (%v), want %s", c.changed, got, err, c.want)
		}
	}
}

func TestUnreadable(t *testing.T) {
	tree := treeOf(map[string]string{
		"a/plan.ohm.hcl":  `plan "a" { stock = ["../shop"] }`,
		"shop/w.ohm.hcl":  `wire "w" { gauge = "16 AWG" }`,
		"big/big.ohm.hcl": strings.Repeat("#", 10<<20+1),
	})
	tree["a/pipe.ohm.hcl"] = &fstest.MapFile{Mode: fs.ModeNamedPipe | 0o644}
	tree["shop/pipe.ohm.hcl"] = &fstest.MapFile{Mode: fs.ModeNamedPipe | 0o644}
	at := New(tree)
	p, err := at.Decode("a")
	if err == nil || !strings.Contains(err.Error(), "a/pipe.ohm.hcl is not a regular file") {
		t.Errorf("error %v", err)
	}
	var said []string
	for _, x := range p.Problems {
		said = append(said, x.Message)
	}
	want := []string{
		"a/pipe.ohm.hcl: File cannot be read: a/pipe.ohm.hcl is not a regular file",
		"shop/pipe.ohm.hcl: File cannot be read: shop/pipe.ohm.hcl is not a regular file",
	}
	if !slices.Equal(said, want) {
		t.Errorf("problems %q, want %q", said, want)
	}
	if !at.Look("shop").Plan {
		t.Error("a directory with a file that cannot be read is taken for parts")
	}
	if at.File("big/big.ohm.hcl").Refused() == nil {
		t.Error("a file of more than 10 MB is read")
	}
}

func TestWalk(t *testing.T) {
	tree := treeOf(map[string]string{
		"p.ohm.hcl": "", "b/q.ohm.hcl": "", "b/c/r.ohm.hcl": "", "b/c/notes.txt": "",
		".git/x.ohm.hcl": "", "b/node_modules/y.ohm.hcl": "", "b/.cache/d/z.ohm.hcl": "", "d.ohm.hcl/s.ohm.hcl": "",
	})
	var got []string
	for dir, names := range Walk(tree, ".", func(err error) { t.Error(err) }) {
		got = append(got, fmt.Sprint(dir, names))
	}
	want := []string{".[p.ohm.hcl]", "b[b/q.ohm.hcl]", "b/c[b/c/r.ohm.hcl]", "d.ohm.hcl[d.ohm.hcl/s.ohm.hcl]"}
	if !slices.Equal(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
	got = nil
	for dir := range Walk(tree, "b/.cache", func(err error) { t.Error(err) }) {
		got = append(got, dir)
	}
	if want := []string{"b/.cache", "b/.cache/d"}; !slices.Equal(got, want) {
		t.Errorf("asked for by name: %q, want %q", got, want)
	}
	failed := 0
	for range Walk(tree, "none", func(error) { failed++ }) {
	}
	if failed != 1 {
		t.Errorf("told of %d failures", failed)
	}
}

func TestRoot(t *testing.T) {
	repository := func(dir string) bool { return dir == "/studio/lamps" || dir == "/studio/lamps/inner" }
	for _, c := range []struct {
		dirs []string
		want string
	}{
		{[]string{"/srv/plans/porch"}, "/srv/plans"},
		{[]string{"/srv/plans"}, "/srv"},
		{[]string{"/studio/lamps/plans/porch"}, "/studio/lamps"},
		{[]string{"/studio/lamps/inner/x"}, "/studio/lamps/inner"},
		{[]string{"/studio/lamps/inner/x", "/studio/lamps/y"}, "/studio/lamps"},
		{[]string{"/studio/lamps/y", "/srv/plans/porch"}, "/"},
		{[]string{"/"}, "/"},
		{nil, ""},
	} {
		if got, err := Root(c.dirs, repository); err != nil || got != c.want {
			t.Errorf("%v: %s, %v, want %s", c.dirs, got, err, c.want)
		}
	}
}
