package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
)

// block takes the indented text behind the first "|" after a line out of a
// YAML file.
func block(t *testing.T, file, after string) string {
	t.Helper()
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	_, rest, ok := strings.Cut(string(text), after)
	if !ok {
		t.Fatalf("%s has no line %q", file, after)
	}
	_, rest, ok = strings.Cut(rest, "|\n")
	if !ok {
		t.Fatalf("%s has no block after %q", file, after)
	}
	indent := rest[:len(rest)-len(strings.TrimLeft(rest, " "))]
	var out []string
	for _, l := range strings.Split(rest, "\n") {
		if l != "" && !strings.HasPrefix(l, indent) {
			break
		}
		out = append(out, strings.TrimPrefix(l, indent))
	}
	return strings.Join(out, "\n")
}

// shell runs a script with some variables set, and the programs in bin in front
// of those on the path.
func (r repository) shell(bin, script string, vars ...string) (output string, code int) {
	r.t.Helper()
	if _, err := exec.LookPath("bash"); err != nil {
		lacking(r.t, "bash")
	}
	cmd := exec.Command("bash", "-eo", "pipefail", "-c", script)
	cmd.Dir = r.dir
	cmd.Env = append(append(os.Environ(), "PATH="+bin+string(os.PathListSeparator)+os.Getenv("PATH")), vars...)
	out, err := cmd.CombinedOutput()
	if err != nil && cmd.ProcessState.ExitCode() < 1 {
		r.t.Fatalf("%v\n%s", err, out)
	}
	return string(out), cmd.ProcessState.ExitCode()
}

// script writes a small program for the tests.
func script(t *testing.T, dir, name, text string) {
	t.Helper()
	if err := os.WriteFile(filepath.Join(dir, name), []byte("#!/bin/sh\n"+text), 0o755); err != nil {
		t.Fatal(err)
	}
}

// reviewed is a repository with a branch "change" that adds an error.
func reviewed(t *testing.T) repository {
	r := newRepository(t, filepath.Join(comparisons, "base"))
	r.git("checkout", "-q", "-b", "change")
	r.edit(edit{file: porch, old: goodFuse, new: noFuse})
	r.commit("Leave a fuse out")
	return r
}

// The recipe for any CI writes its files and fails on new errors only.
func TestGenericReview(t *testing.T) {
	r := reviewed(t)
	recipe, err := filepath.Abs("../../editors/ci/generic/review.sh")
	if err != nil {
		t.Fatal(err)
	}
	if out, code := r.shell("", recipe+" main change"); code != 1 {
		t.Errorf("exit code %d, want 1\n%s", code, out)
	}
	for name, holds := range map[string]string{"check.sarif": `"wire-unprotected"`, "check.xml": "<testsuite", "compare.md": "1 new error", "compare.html": "</html>"} {
		text, err := os.ReadFile(filepath.Join(r.dir, "ohmstead-results", name))
		if err != nil || !strings.Contains(string(text), holds) {
			t.Errorf("%s does not hold %s: %v", name, holds, err)
		}
	}
	if out, code := r.shell("", recipe+" change change plans"); code != 0 {
		t.Errorf("nothing changed: exit code %d, want 0\n%s", code, out)
	}
	if out, code := r.shell("", recipe+" nowhere"); code != 2 {
		t.Errorf("no such revision: exit code %d, want 2\n%s", code, out)
	}
}

// The same on a machine with nothing but a shell, mkdir, git and the program, and no
// variable set but the path; a line of stock is reviewed like any other change.
func TestGenericReviewBare(t *testing.T) {
	r := reviewed(t)
	r.git("checkout", "-q", "-b", "stock", "main")
	r.edit(edit{file: parts, old: `"16 AWG"`, new: `"20 AWG"`})
	r.commit("Thinner wire")
	bin := t.TempDir()
	for _, name := range []string{"sh", "mkdir", "git", "ohmstead"} {
		path, err := exec.LookPath(name)
		if err != nil {
			lacking(t, name)
		}
		if err := os.Symlink(path, filepath.Join(bin, name)); err != nil {
			t.Fatal(err)
		}
	}
	recipe, err := filepath.Abs("../../editors/ci/generic/review.sh")
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		branch string
		code   int
		holds  string
	}{{"change", 1, "1 new error"}, {"stock", 0, "`wire.feed` (stock): gauge 16 AWG → 20 AWG"}} {
		r.git("checkout", "-q", "-f", c.branch)
		cmd := exec.Command(filepath.Join(bin, "sh"), recipe, "main", c.branch)
		cmd.Dir, cmd.Env = r.dir, []string{"PATH=" + bin}
		out, _ := cmd.CombinedOutput()
		if code := cmd.ProcessState.ExitCode(); code != c.code {
			t.Errorf("%s: exit code %d, want %d\n%s", c.branch, code, c.code, out)
		}
		text, err := os.ReadFile(filepath.Join(r.dir, "ohmstead-results", "compare.md"))
		if err != nil || !strings.Contains(string(text), c.holds) {
			t.Errorf("%s: compare.md does not hold %s: %v", c.branch, c.holds, err)
		}
		for _, forge := range []string{"github-comment.json", "gitlab-note.json"} {
			payload(t, forge, string(text))
		}
	}
}

// payload holds what is sent to a forge against what its documentation allows.
func payload(t *testing.T, schema, body string) {
	t.Helper()
	s, err := jsonschema.NewCompiler().Compile("../../testdata/forges/" + schema)
	if err != nil {
		t.Fatal(err)
	}
	if err := s.Validate(map[string]any{"body": body}); err != nil {
		t.Errorf("%s: %v", schema, err)
	}
	if err := s.Validate(map[string]any{"body": ""}); err == nil {
		t.Errorf("%s takes an empty body", schema)
	}
}

// The steps of the workflow, with a stand-in for the forge's own program that
// keeps comments in a directory.
func TestGitHubRecipe(t *testing.T) {
	const recipe = "../../editors/ci/github/plans.yml"
	check, compare, comment := block(t, recipe, "Check what is new"), block(t, recipe, "id: compare"), block(t, recipe, "- name: Comment")
	bin := t.TempDir()
	script(t, bin, "gh", `
case "$*" in
*--paginate*) cat "$KEPT/id" 2>/dev/null || true ;;
*PATCH*issues/comments/7\ *) cp compare.md "$KEPT/comment"; echo patched >> "$KEPT/log" ;;
*POST*issues/12/comments*) cp compare.md "$KEPT/comment"; echo 7 > "$KEPT/id"; echo posted >> "$KEPT/log" ;;
*) echo "gh $*" >&2; exit 1 ;;
esac
`)
	r := reviewed(t)
	kept := t.TempDir()
	vars := []string{"KEPT=" + kept, "BASE=main", "NUMBER=12", "GITHUB_REPOSITORY=a/b", "GITHUB_STEP_SUMMARY=" + filepath.Join(kept, "summary"), "GITHUB_OUTPUT=" + filepath.Join(kept, "output")}
	for range 2 {
		out, code := r.shell(bin, check+"\n"+compare+"\n"+comment, vars...)
		if code != 0 {
			t.Fatalf("exit code %d\n%s", code, out)
		}
		if !strings.Contains(out, "::error file=plans/porch/plan.ohm.hcl") || strings.Contains(out, "spots-visible") {
			t.Errorf("the annotations are not those of what is new:\n%s", out)
		}
	}
	if body, err := os.ReadFile(filepath.Join(kept, "comment")); err == nil {
		payload(t, "github-comment.json", string(body))
	}
	for name, holds := range map[string]string{"comment": "1 new error", "summary": "1 new error", "output": "code=1\n", "log": "posted\npatched\n"} {
		if text, err := os.ReadFile(filepath.Join(kept, name)); err != nil || !strings.Contains(string(text), holds) {
			t.Errorf("%s does not hold %q: %s %v", name, holds, text, err)
		}
	}
}

// The script of the merge request job, with a stand-in for curl.
func TestGitLabRecipe(t *testing.T) {
	if _, err := exec.LookPath("jq"); err != nil {
		lacking(t, "jq")
	}
	const recipe = "../../editors/ci/gitlab/plans.gitlab-ci.yml"
	compare, note := block(t, recipe, "plans-review:"), block(t, recipe, "begins with the same hidden line.")
	bin := t.TempDir()
	script(t, bin, "curl", `
case "$*" in
*api/user) echo '{"id": 3}' ;;
*per_page*) cat "$KEPT/notes" 2>/dev/null || echo '[{"id": 1, "author": {"id": 9}, "body": "<!-- ohmstead compare -->"}]' ;;
*PUT*notes/7\ *) echo put >> "$KEPT/log" ;;
*POST*notes\ *) echo post >> "$KEPT/log"
	echo '[{"id": 1, "author": {"id": 9}, "body": "<!-- ohmstead compare -->"}, {"id": 7, "author": {"id": 3}, "body": "<!-- ohmstead compare -->"}]' > "$KEPT/notes" ;;
*) echo "curl $*" >&2; exit 1 ;;
esac
`)
	r := reviewed(t)
	kept := t.TempDir()
	head := strings.TrimSpace(r.git("rev-parse", "change"))
	for range 2 {
		out, code := r.shell(bin, compare+"\n"+note+"\nexit \"$code\"", "KEPT="+kept, "OHMSTEAD_TOKEN=t", "CI_API_V4_URL=api", "CI_PROJECT_ID=1", "CI_MERGE_REQUEST_IID=2",
			"CI_MERGE_REQUEST_DIFF_BASE_SHA=main", "CI_COMMIT_SHA="+head)
		if code != 1 || !strings.Contains(out, "1 new error") {
			t.Fatalf("exit code %d, want 1\n%s", code, out)
		}
	}
	if log, err := os.ReadFile(filepath.Join(kept, "log")); err != nil || string(log) != "post\nput\n" {
		t.Errorf("the note was written so: %q %v", log, err)
	}
	if text, err := os.ReadFile(filepath.Join(r.dir, "code-quality.json")); err != nil || !strings.Contains(string(text), "wire-unprotected") {
		t.Errorf("code-quality.json: %v", err)
	}
}
