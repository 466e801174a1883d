package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"ohmstead/calc/thorough"
)

// The tests of this file run the program by its name, as hooks do: TestMain
// puts it on the path.

// committed commits what is staged and tells whether the hooks let it pass.
func (r repository) committed(home string, args ...string) (output string, passed bool) {
	r.t.Helper()
	cmd := exec.Command("git", append([]string{"commit", "-m", "Change"}, args...)...)
	cmd.Dir = r.dir
	cmd.Env = append(os.Environ(), "HOME="+home, "PRE_COMMIT_HOME="+filepath.Join(home, "pre-commit"),
		"GIT_CONFIG_SYSTEM="+os.DevNull, "GIT_AUTHOR_NAME=A", "GIT_AUTHOR_EMAIL=a@example.org", "GIT_COMMITTER_NAME=A", "GIT_COMMITTER_EMAIL=a@example.org", "NO_COLOR=1", "PRE_COMMIT_COLOR=never")
	out, err := cmd.CombinedOutput()
	r.t.Logf("git commit %s\n%s", strings.Join(args, " "), out)
	return string(out), err == nil
}

const (
	thinner  = "gauge = \"16 AWG\"" // of the wire that every lead of the plan is made of
	tooThin  = "gauge = \"26 AWG\""
	goodFuse = "length = \"2.4 m\"\n  fuse   = \"5 A\""
	noFuse   = "length = \"2.4 m\""
)

// hookCases are commits and whether a hook must let them pass.
var hookCases = []struct {
	name   string
	staged []edit
	after  []edit // made in the working tree after staging
	remove string
	args   []string
	passes bool
	says   []string
}{
	{name: "a plan that is fine", staged: []edit{{file: porch, old: `"80 cm"`, new: `"90 cm"`}}, passes: true},
	{name: "a fuse left out", staged: []edit{{file: porch, old: goodFuse, new: noFuse}}, says: []string{"lead.sill", "[wire-unprotected]"}},
	{name: "stock that a plan does not stand", staged: []edit{{file: parts, old: thinner, new: tooThin}}, says: []string{"plans/porch/plan.ohm.hcl", "[lead-overcurrent]"}},
	{name: "stock removed", remove: parts, says: []string{"[stock-unusable]"}},
	{name: "staged well, broken in the working tree", staged: []edit{{file: porch, old: `"80 cm"`, new: `"90 cm"`}}, after: []edit{{file: porch, old: goodFuse, new: noFuse}}, passes: true},
	{name: "staged badly, mended in the working tree", staged: []edit{{file: porch, old: goodFuse, new: noFuse}}, after: []edit{{file: porch, old: noFuse, new: goodFuse}}, says: []string{"[wire-unprotected]"}},
	{name: "everything by -a", after: []edit{{file: porch, old: goodFuse, new: noFuse}}, args: []string{"-a"}, says: []string{"[wire-unprotected]"}},
	{name: "one file by name", after: []edit{{file: porch, old: goodFuse, new: noFuse}}, args: []string{"--", porch}, says: []string{"[wire-unprotected]"}},
}

// commits tries every case on a repository whose hook is installed.
func commits(t *testing.T, r repository, home string) {
	r.git("tag", "start")
	for i, c := range hookCases {
		if (i+2)%thorough.Or(1, 3) != 0 { // the fuse, what is only staged, one file by name
			continue
		}
		t.Run(c.name, func(t *testing.T) {
			r := repository{t, r.dir}
			r.git("reset", "-q", "--hard", "start")
			if c.remove != "" {
				r.git("rm", "-q", c.remove)
			}
			r.edit(c.staged...)
			r.git("add", "-A")
			r.edit(c.after...)
			before := r.git("diff")
			out, passed := r.committed(home, c.args...)
			if passed != c.passes {
				t.Errorf("the commit passed: %v, want %v", passed, c.passes)
			}
			for _, s := range c.says {
				if !strings.Contains(out, s) {
					t.Errorf("it does not say %s", s)
				}
			}
			if len(c.args) == 0 {
				if after := r.git("diff"); after != before {
					t.Errorf("the working tree is another now:\n%s", after)
				}
			}
		})
	}
}

// The hooks that the repository offers, run by the real pre-commit program on
// what commits stage. Only where the program comes from differs: it is not
// built by pre-commit, which needs the network.
func TestPreCommit(t *testing.T) {
	if _, err := exec.LookPath("pre-commit"); err != nil {
		lacking(t, "pre-commit")
	}
	manifest, err := os.ReadFile("../../.pre-commit-hooks.yaml")
	if err != nil {
		t.Fatal(err)
	}
	home := t.TempDir()
	hooks := strings.ReplaceAll(string(manifest), "language: golang", "language: system")
	if strings.Count(hooks, "language: system") != 2 {
		t.Fatalf("the manifest has other hooks than this test knows:\n%s", manifest)
	}
	r := newRepository(t, filepath.Join(comparisons, "base"))
	config := "repos:\n- repo: local\n  hooks:\n"
	for _, l := range strings.Split(hooks, "\n") {
		if l != "" {
			config += "  " + l + "\n"
		}
	}
	if err := os.WriteFile(filepath.Join(r.dir, ".pre-commit-config.yaml"), []byte(config), 0o644); err != nil {
		t.Fatal(err)
	}
	r.commit("Hooks")
	install := exec.Command("pre-commit", "install")
	install.Dir = r.dir
	install.Env = append(os.Environ(), "HOME="+home, "PRE_COMMIT_HOME="+filepath.Join(home, "pre-commit"))
	if out, err := install.CombinedOutput(); err != nil {
		t.Fatalf("pre-commit install: %v\n%s", err, out)
	}
	commits(t, r, home)
	t.Run("another layout", func(t *testing.T) {
		r := repository{t, r.dir}
		r.git("reset", "-q", "--hard", "start")
		r.edit(edit{file: porch, old: "output = \"5 V\"\n  trim   = \"5.2 V\"", new: "output = \"5 V\"\n  trim = \"5.1 V\""})
		r.git("add", "-A")
		out, passed := r.committed(home)
		if passed || !strings.Contains(out, "files were modified by this hook") {
			t.Error("a commit with another layout passed")
		}
		r.git("add", "-A")
		if _, passed = r.committed(home); !passed {
			t.Error("the mended commit did not pass")
		}
		if show := r.git("show"); !strings.Contains(show, "+  trim   = \"5.1 V\"") {
			t.Errorf("committed was\n%s", show)
		}
	})
	t.Run("nothing of a plan", func(t *testing.T) {
		r := repository{t, r.dir}
		r.git("reset", "-q", "--hard", "start")
		if err := os.WriteFile(filepath.Join(r.dir, "README.md"), []byte("Plans.\n"), 0o644); err != nil {
			t.Fatal(err)
		}
		r.git("add", "-A")
		if _, passed := r.committed(home); !passed {
			t.Error("the commit did not pass")
		}
	})
}

// The plain hook of editors/git does the same without pre-commit.
func TestPlainHook(t *testing.T) {
	home := t.TempDir()
	r := newRepository(t, filepath.Join(comparisons, "base"))
	hook, err := os.ReadFile("../../editors/git/pre-commit")
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(r.dir, ".git", "hooks", "pre-commit"), hook, 0o755); err != nil {
		t.Fatal(err)
	}
	commits(t, r, home)
	t.Run("another layout", func(t *testing.T) {
		r := repository{t, r.dir}
		r.git("reset", "-q", "--hard", "start")
		r.edit(edit{file: porch, old: "  trim   = \"5.2 V\"", new: "  trim = \"5.2 V\""})
		r.git("add", "-A")
		if out, passed := r.committed(home); passed || !strings.Contains(out, "is not in its layout") {
			t.Error("a commit with another layout passed")
		}
	})
}

// The textconv recipe: a change of one named value shows where it reaches.
func TestTextconv(t *testing.T) {
	r := newRepository(t, "")
	plan := "plan \"p\" {}\n\nlet { gap = \"34 cm\" }\n\nrun \"rung\" {\n  strip   = strip.house\n  times   = 2\n  through = [[\"0 m\", \"0 m\"], [\"90 cm\", \"0 m\"]]\n  shift   = [\"0 m\", let.gap]\n}\n"
	write := func(name, text string) {
		if err := os.WriteFile(filepath.Join(r.dir, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	write("plan.ohm.hcl", plan)
	write(".gitattributes", "*.ohm.hcl diff=ohmstead\n")
	r.git("config", "diff.ohmstead.textconv", "ohmstead resolve --alone")
	r.git("config", "diff.ohmstead.xfuncname", `^([a-z]+ ("[^"]*" )?\{.*)$`)
	r.commit("Base")
	write("plan.ohm.hcl", strings.Replace(plan, "34 cm", "36 cm", 1))
	diff := r.git("diff", "-U0")
	for _, want := range []string{
		`@@ run "rung-2" {`,
		`-  through = [["0 m", "34 cm"], ["90 cm", "34 cm"]]`,
		`+  through = [["0 m", "36 cm"], ["90 cm", "36 cm"]]`,
	} {
		if !strings.Contains(diff, want) {
			t.Errorf("no line %s in\n%s", want, diff)
		}
	}
}
