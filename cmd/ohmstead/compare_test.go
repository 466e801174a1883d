package main

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf8"
)

const comparisons = "../../testdata/compare"

// repository is a git repository in a temporary directory.
type repository struct {
	t   testing.TB
	dir string
}

// newRepository makes one that holds the files of a directory, committed on main.
func newRepository(t testing.TB, from string) repository {
	t.Helper()
	if _, err := exec.LookPath("git"); err != nil {
		lacking(t, "git")
	}
	r := repository{t, t.TempDir()}
	r.git("init", "-q", "-b", "main")
	if from != "" {
		if err := os.CopyFS(r.dir, os.DirFS(from)); err != nil {
			t.Fatal(err)
		}
		r.commit("Base")
	}
	return r
}

// lacking skips a test for want of a tool, unless all of them must be there.
func lacking(t testing.TB, tool string) {
	t.Helper()
	if os.Getenv("OHMSTEAD_NO_SKIP") != "" {
		t.Fatalf("%s is needed and is not there", tool)
	}
	t.Skipf("%s is not there", tool)
}

func (r repository) git(args ...string) string {
	r.t.Helper()
	cmd := exec.Command("git", args...)
	cmd.Dir = r.dir
	cmd.Env = append(os.Environ(), "GIT_CONFIG_GLOBAL="+os.DevNull, "GIT_CONFIG_SYSTEM="+os.DevNull,
		"GIT_AUTHOR_NAME=A", "GIT_AUTHOR_EMAIL=a@example.org", "GIT_COMMITTER_NAME=A", "GIT_COMMITTER_EMAIL=a@example.org",
		"GIT_AUTHOR_DATE=2026-05-01T12:00:00Z", "GIT_COMMITTER_DATE=2026-05-01T12:00:00Z")
	out, err := cmd.CombinedOutput()
	if err != nil {
		r.t.Fatalf("git %s: %v\n%s", strings.Join(args, " "), err, out)
	}
	return string(out)
}

func (r repository) commit(message string) {
	r.t.Helper()
	r.git("add", "-A")
	r.git("commit", "-q", "-m", message)
}

// edit is one replacement in a file; old must stand there exactly once, unless all is set.
type edit struct {
	file, old, new string
	all            bool
}

func (r repository) edit(edits ...edit) {
	r.t.Helper()
	for _, e := range edits {
		name := filepath.Join(r.dir, e.file)
		text, err := os.ReadFile(name)
		if err != nil {
			r.t.Fatal(err)
		}
		if n := strings.Count(string(text), e.old); n != 1 && !(e.all && n > 0) {
			r.t.Fatalf("%s holds %d times:\n%s", e.file, n, e.old)
		}
		if err := os.WriteFile(name, []byte(strings.ReplaceAll(string(text), e.old, e.new)), 0o644); err != nil {
			r.t.Fatal(err)
		}
	}
}

// ohmstead runs a command and returns what it wrote and its exit code.
func ohmstead(args ...string) (out, errs string, code int) {
	var o, e bytes.Buffer
	code = run(args, strings.NewReader(""), &o, &e)
	return o.String(), e.String(), code
}

const (
	porch = "plans/porch/plan.ohm.hcl"
	parts = "workshop/parts.ohm.hcl"

	leadLeft = `lead "left" {
  from   = supply.brick.out
  to     = run.arch.start
  wire   = wire.feed
  length = "80 cm"`
	arch = `run "arch" {
  strip    = strip.house
  diffuser = diffuser.tube
  fixing   = fixing.clip
  on       = surface.wall
  insert   = "cord"
  path {
    start = ["60 cm", "20 cm"]
    line { to = ["60 cm", "140 cm"] }
    arc {
      to     = ["150 cm", "140 cm"]
      radius = "45 cm"
      turn   = "right"
    }
    line { to = ["150 cm", "20 cm"] }
  }
}`
	halves = `run "arch-left" {
  strip    = strip.house
  diffuser = diffuser.tube
  fixing   = fixing.clip
  on       = surface.wall
  insert   = "cord"
  path {
    start = ["60 cm", "20 cm"]
    line { to = ["60 cm", "140 cm"] }
    arc {
      sweep  = "90 deg"
      radius = "45 cm"
      turn   = "right"
    }
  }
}

run "arch-right" {
  strip    = strip.house
  diffuser = diffuser.tube
  fixing   = fixing.clip
  on       = surface.wall
  insert   = "cord"
  path {
    start = ["150 cm", "20 cm"]
    line { to = ["150 cm", "140 cm"] }
    arc {
      sweep  = "90 deg"
      radius = "45 cm"
      turn   = "left"
    }
  }
}`
)

// changes are ten changes to the plan of testdata/compare/base.
var changes = []struct {
	name  string
	edits []edit
}{
	{"longer-lead", []edit{{file: porch, old: leadLeft, new: strings.Replace(leadLeft, "80 cm", "6 m", 1)}}},
	{"other-gauge", []edit{{file: parts, old: `"16 AWG"`, new: `"20 AWG"`}}},
	{"moved-feed", []edit{{file: porch, old: "to     = run.arch.end", new: `to     = run.arch["2 m"]`}}},
	{"strip-to-rgbw", []edit{
		{file: parts, old: `like  = catalog.ws2812b_5v_30
  price = "24 EUR"`, new: `like  = catalog.sk6812_rgbw_5v_30
  price = "33 EUR"`}}},
	{"run-split", []edit{
		{file: porch, old: arch, new: halves},
		{file: porch, old: leadLeft, new: strings.Replace(leadLeft, "run.arch.start", "run.arch-left.start", 1)},
		{file: porch, old: "to     = run.arch.end", new: "to     = run.arch-right.start"},
		{file: porch, old: `from   = controller.brain.port.a
  to     = run.arch.start`, new: `from   = controller.brain.port.a
  to     = run.arch-left.start`},
		{file: porch, old: `port "a" { pin = 4 }`, new: "port \"a\" { pin = 4 }\n  port \"b\" { pin = 13 }"},
		{file: porch, old: `from   = run.arch.end
  to     = run.sill.start`, new: `from   = run.arch-right.end
  to     = run.sill.start`},
		{file: porch, old: `signal "sill" {`, new: `signal "arch-right" {
  from   = controller.brain.port.b
  to     = run.arch-right.start
  wire   = wire.data
  length = "1.8 m"
}

signal "sill" {`},
		{file: porch, old: "[run.arch, run.sill]", new: "[run.arch-left, run.arch-right, run.sill]"},
	}},
	{"run-renamed", []edit{
		{file: porch, old: `run "arch"`, new: `run "door"`},
		{file: porch, old: "run.arch", new: "run.door", all: true},
	}},
	{"supply-replaced", []edit{{file: porch, old: `  rating = "18 A"
  input  = ["230 V"]
  on     = surface.wall
  at     = ["20 cm", "20 cm"]
  price  = "32 EUR"`, new: `  rating = "12 A"
  input  = ["120 V", "230 V"]
  on     = surface.wall
  at     = ["20 cm", "20 cm"]
  price  = "21 EUR"`}}},
	{"ceiling-lowered", []edit{{file: porch, old: `"8 A"`, new: `"4 A"`}}},
	{"order-reversed", []edit{{file: porch, old: "[run.arch, run.sill]", new: "[from_end(run.sill), from_end(run.arch)]"}}},
	{"stock-price", []edit{{file: parts, old: `"24 EUR"`, new: `"29.50 EUR"`}}},
}

// The markdown of ten realistic changes, as a reviewer sees it.
func TestCompareChanges(t *testing.T) {
	r := newRepository(t, filepath.Join(comparisons, "base"))
	goldens, err := filepath.Abs(comparisons)
	if err != nil {
		t.Fatal(err)
	}
	t.Chdir(r.dir)
	for _, c := range changes {
		r.git("checkout", "-q", "-b", c.name, "main")
		r.edit(c.edits...)
		r.commit(c.name)
	}
	r.git("checkout", "-q", "main")
	for _, c := range changes {
		t.Run(c.name, func(t *testing.T) {
			out, errs, code := ohmstead("compare", "--rev", "main.."+c.name, "--format", "markdown", "--fail-on", "never")
			if code != 0 || errs != "" {
				t.Fatalf("exit code %d: %s", code, errs)
			}
			if utf8.RuneCountInString(out) > 60_000 {
				t.Errorf("%d characters", utf8.RuneCountInString(out))
			}
			golden(t, filepath.Join(goldens, c.name+".md"), out)
		})
	}
}

// golden compares a text with a file, or writes the file.
func golden(t *testing.T, file, got string) {
	t.Helper()
	if *update {
		if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatalf("%v; run go test ./cmd/ohmstead -run Compare -update", err)
	}
	if got != string(want) {
		t.Errorf("%s differs; run go test ./cmd/ohmstead -run Compare -update and read the difference\ngot:\n%s", filepath.Base(file), got)
	}
}
