package workspace

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"golang.org/x/tools/txtar"
)

const tree = `
-- plans/porch/plan.ohm.hcl --
plan "porch" { stock = ["../../workshop"] }
-- plans/porch/more.ohm.hcl --
wire "x" { gauge = "16 AWG" }
-- plans/shelf/plan.ohm.hcl --
plan "shelf" { stock = ["../../middle"] }
-- middle/parts.ohm.hcl --
policy { drop = "8 %" }
-- workshop/parts.ohm.hcl --
strip "led" { like = catalog.ws2815_12v_60 }
-- unused/parts.ohm.hcl --
wire "y" { gauge = "16 AWG" }
-- odd/plan.ohm.hcl --
run "lost" { length = "1 m" }
-- node_modules/x/plan.ohm.hcl --
plan "no" {}
-- .cache/plan.ohm.hcl --
plan "no" {}
-- plans/notes.txt --
not a plan
-- empty/notes.txt --
not a plan
`

// unpack lays out a txtar archive in a directory and goes there.
func unpack(t *testing.T, text string) string {
	t.Helper()
	dir, err := filepath.EvalSymlinks(t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range txtar.Parse([]byte(text)).Files {
		file := filepath.Join(dir, filepath.FromSlash(f.Name))
		if err := os.MkdirAll(filepath.Dir(file), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(file, f.Data, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	t.Chdir(dir)
	return dir
}

func TestFind(t *testing.T) {
	dir := unpack(t, tree)
	for _, c := range []struct {
		name string
		args []string
		want []string
		err  string
	}{
		{"a plan's directory", []string{"plans/porch"}, []string{"plans/porch"}, ""},
		{"a plan's file", []string{"plans/porch/more.ohm.hcl"}, []string{"plans/porch"}, ""},
		{"two files of one plan", []string{"plans/porch/more.ohm.hcl", "plans/porch/plan.ohm.hcl"}, []string{"plans/porch"}, ""},
		{"all plans below", []string{"plans"}, []string{"plans/porch", "plans/shelf"}, ""},
		{"everything", []string{"."}, []string{"odd", "plans/porch", "plans/shelf"}, ""},
		{"an absolute path", []string{filepath.Join(dir, "plans", "shelf")}, []string{"plans/shelf"}, ""},
		{"parts that a plan uses", []string{"workshop"}, []string{"plans/porch"}, ""},
		{"a file of parts", []string{"workshop/parts.ohm.hcl"}, []string{"plans/porch"}, ""},
		{"parts that nobody uses", []string{"unused"}, []string{"unused"}, ""},
		{"runs without a plan block", []string{"odd"}, []string{"odd"}, ""},
		{"a hidden directory by name", []string{".cache"}, []string{".cache"}, ""},
		{"not there", []string{"nowhere"}, nil, "there is no such file"},
		{"no plan file", []string{"plans/notes.txt"}, nil, "not a plan file"},
		{"no plan files", []string{"empty"}, nil, "there is no *.ohm.hcl file"},
		{"one of two", []string{"nowhere", "odd"}, []string{"odd"}, "there is no such file"},
		{"outside", []string{".."}, nil, "outside of the root"},
	} {
		t.Run(c.name, func(t *testing.T) {
			w, err := Open(dir)
			if err != nil {
				t.Fatal(err)
			}
			got, err := w.Find(c.args)
			if !slices.Equal(got, c.want) {
				t.Errorf("found %q, want %q", got, c.want)
			}
			if (err == nil) != (c.err == "") || err != nil && !strings.Contains(err.Error(), c.err) {
				t.Errorf("error %v, want %q", err, c.err)
			}
		})
	}
}

func TestTouched(t *testing.T) {
	dir := unpack(t, tree+`
-- workshop/policy.ohm.hcl --
policy { drop = "8 %" }
-- middle/plan.ohm.hcl --
plan "middle" { stock = ["../workshop"] }
`)
	w, err := Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		name  string
		names []string
		want  []string
	}{
		{"a plan", []string{"plans/porch/plan.ohm.hcl"}, []string{"plans/porch"}},
		{"stock of stock", []string{"workshop/parts.ohm.hcl"}, []string{"middle", "plans/porch", "plans/shelf"}},
		{"a removed file", []string{"plans/porch/gone.ohm.hcl", "nowhere/gone.ohm.hcl"}, []string{"plans/porch"}},
		{"other files", []string{"README.md"}, nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got, err := w.Touched(c.names); err != nil || !slices.Equal(got, c.want) {
				t.Errorf("%q, %v, want %q", got, err, c.want)
			}
		})
	}
}

func TestFindRoot(t *testing.T) {
	dir := unpack(t, tree+`
-- repo/.git/HEAD --
-- repo/plans/a/plan.ohm.hcl --
plan "a" {}
-- linked/.git --
gitdir: elsewhere
-- linked/a/plan.ohm.hcl --
plan "a" {}
`)
	for _, c := range []struct {
		name string
		args []string
		want string
	}{
		{"the parent", []string{"plans/porch"}, "plans"},
		{"the parent of a file's directory", []string{"plans/porch/plan.ohm.hcl"}, "plans"},
		{"the repository", []string{"repo/plans/a"}, "repo"},
		{"a linked working tree", []string{"linked/a"}, "linked"},
		{"what holds both", []string{"repo/plans/a", "plans/porch"}, "."},
		{"something that is not there", []string{"plans/none/plan.ohm.hcl"}, "plans"},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got, err := FindRoot(c.args); err != nil || got != filepath.Join(dir, c.want) {
				t.Errorf("%s, %v, want %s", got, err, filepath.Join(dir, c.want))
			}
		})
	}
}

func TestStockIsParsedOnce(t *testing.T) {
	dir := unpack(t, tree)
	w, err := Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	a, err := w.Decode("plans/porch")
	if err != nil {
		t.Fatal(err)
	}
	b, err := w.With(map[string][]byte{"plans/porch/plan.ohm.hcl": []byte("plan \"other\" { stock = [\"../../workshop\"] }\n")}).Decode("plans/porch")
	if err != nil {
		t.Fatal(err)
	}
	if len(a.StockFiles) != 1 || a.StockFiles[0] != b.StockFiles[0] {
		t.Error("the stock was parsed twice")
	}
	if b.Name() != "other" || a.Name() != "porch" {
		t.Errorf("the plans are called %s and %s", a.Name(), b.Name())
	}
}

func TestLinksStayInside(t *testing.T) {
	dir := unpack(t, `
-- outside/plan.ohm.hcl --
plan "secret" {}
-- root/a/plan.ohm.hcl --
plan "a" { stock = ["../b"] }
`)
	if err := os.Symlink("../outside", "root/b"); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink("../../outside/plan.ohm.hcl", "root/a/more.ohm.hcl"); err != nil {
		t.Fatal(err)
	}
	w, err := Open(filepath.Join(dir, "root"))
	if err != nil {
		t.Fatal(err)
	}
	if _, err := w.Decode("a"); err == nil || !strings.Contains(err.Error(), "escapes") {
		t.Errorf("a linked file from outside: %v", err)
	}
	if err := os.Remove("root/a/more.ohm.hcl"); err != nil {
		t.Fatal(err)
	}
	p, err := w.Decode("a")
	if err != nil {
		t.Fatal(err)
	}
	if len(p.StockFiles) != 0 || len(p.Problems) != 1 || !strings.Contains(p.Problems[0].Message, "cannot be read") {
		t.Errorf("linked stock from outside: %d files, problems %v", len(p.StockFiles), p.Problems)
	}
}

func TestShown(t *testing.T) {
	dir := unpack(t, tree)
	w, err := Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	if got := w.Shown("plans/porch"); got != "plans/porch" {
		t.Error(got)
	}
	t.Chdir("plans")
	if got := w.Shown("plans/porch"); got != "porch" {
		t.Error(got)
	}
	if got, want := w.Shown("odd"), filepath.Join(dir, "odd"); got != want {
		t.Errorf("%s, want %s", got, want)
	}
}
