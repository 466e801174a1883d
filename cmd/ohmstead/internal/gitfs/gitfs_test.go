package gitfs

import (
	"context"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"ohmstead/schema/source"
)

// repository makes a repository with two commits and something staged.
func repository(t *testing.T) string {
	t.Helper()
	if _, err := exec.LookPath("git"); err != nil {
		if os.Getenv("OHMSTEAD_NO_SKIP") != "" {
			t.Fatal("git is missing, and OHMSTEAD_NO_SKIP forbids to skip")
		}
		t.Skip("git is missing")
	}
	for _, v := range []string{"GIT_DIR", "GIT_INDEX_FILE", "GIT_WORK_TREE"} {
		t.Setenv(v, "") // so that it is put back
		os.Unsetenv(v)
	}
	t.Setenv("GIT_CONFIG_GLOBAL", os.DevNull)
	dir, err := filepath.EvalSymlinks(t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	git(t, dir, "init", "-q")
	git(t, dir, "config", "user.name", "Test")
	git(t, dir, "config", "user.email", "test@example.invalid")
	put(t, dir, "a/plan.ohm.hcl", "first")
	put(t, dir, "b c/ü.ohm.hcl", "second")
	put(t, dir, "notes.txt", "not a plan")
	git(t, dir, "add", ".")
	git(t, dir, "commit", "-q", "-m", "one")
	put(t, dir, "a/plan.ohm.hcl", "changed")
	git(t, dir, "rm", "-q", "b c/ü.ohm.hcl")
	put(t, dir, "big/plan.ohm.hcl", strings.Repeat("x", source.MaxFile+10))
	git(t, dir, "add", ".")
	put(t, dir, "a/plan.ohm.hcl", "not staged")
	if err := os.Symlink("plan.ohm.hcl", filepath.Join(dir, "a", "link.ohm.hcl")); err != nil {
		t.Fatal(err)
	}
	git(t, dir, "add", "a/link.ohm.hcl")
	return dir
}

func git(t *testing.T, dir string, args ...string) {
	t.Helper()
	cmd := exec.Command("git", args...)
	cmd.Dir = dir
	if out, err := cmd.CombinedOutput(); err != nil {
		t.Fatalf("git %v: %v\n%s", args, err, out)
	}
}

func put(t *testing.T, dir, name, text string) {
	t.Helper()
	file := filepath.Join(dir, filepath.FromSlash(name))
	if err := os.MkdirAll(filepath.Dir(file), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(file, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
}

func TestRevision(t *testing.T) {
	repo, err := Open(context.Background(), filepath.Join(repository(t), "a"))
	if err != nil {
		t.Fatal(err)
	}
	tree, err := repo.Revision("HEAD")
	if err != nil {
		t.Fatal(err)
	}
	if err := fstest.TestFS(tree, "a/plan.ohm.hcl", "b c/ü.ohm.hcl"); err != nil {
		t.Error(err)
	}
	reads(t, tree, "a/plan.ohm.hcl", "first")
	reads(t, tree, "b c/ü.ohm.hcl", "second")
	if _, err := fs.Stat(tree, "notes.txt"); err == nil {
		t.Error("the tree shows a file that is no plan file")
	}
	if err := tree.Close(); err != nil {
		t.Error(err)
	}
}

func TestIndex(t *testing.T) {
	repo, err := Open(context.Background(), repository(t))
	if err != nil {
		t.Fatal(err)
	}
	tree, err := repo.Index()
	if err != nil {
		t.Fatal(err)
	}
	defer tree.Close()
	reads(t, tree, "a/plan.ohm.hcl", "changed")
	if _, err := fs.Stat(tree, "b c/ü.ohm.hcl"); err == nil {
		t.Error("the index still has the removed file")
	}
	if _, err := fs.Stat(tree, "a/link.ohm.hcl"); err == nil {
		t.Error("the index shows a link")
	}
	// Of a file that is too large only the size is read, and the next file is intact.
	info, err := fs.Stat(tree, "big/plan.ohm.hcl")
	if err != nil || info.Size() != source.MaxFile+10 {
		t.Errorf("the large file: %v, %v", info, err)
	}
	reads(t, tree, "a/plan.ohm.hcl", "changed")

	staged, err := repo.Staged()
	if want := []string{"a/link.ohm.hcl", "a/plan.ohm.hcl", "b c/ü.ohm.hcl", "big/plan.ohm.hcl"}; err != nil || !slices.Equal(staged, want) {
		t.Errorf("staged: %q, %v, want %q", staged, err, want)
	}
}

func TestObject(t *testing.T) {
	repo, err := Open(context.Background(), repository(t))
	if err != nil {
		t.Fatal(err)
	}
	head, err := repo.Revision("HEAD")
	if err != nil {
		t.Fatal(err)
	}
	index, err := repo.Index()
	if err != nil {
		t.Fatal(err)
	}
	a, ok1 := head.Object("a/plan.ohm.hcl")
	b, ok2 := index.Object("a/plan.ohm.hcl")
	if !ok1 || !ok2 || a == b {
		t.Errorf("objects %q and %q of a changed file", a, b)
	}
	if _, ok := head.Object("big/plan.ohm.hcl"); ok {
		t.Error("a file that is not there has an object")
	}
}

func TestErrors(t *testing.T) {
	dir := repository(t)
	repo, err := Open(context.Background(), dir)
	if err != nil {
		t.Fatal(err)
	}
	for _, rev := range []string{"nowhere", "--all", "HEAD:a", ""} {
		if _, err := repo.Revision(rev); err == nil || !strings.Contains(err.Error(), "is not a commit") {
			t.Errorf("revision %q: %v", rev, err)
		}
	}
	if _, err := Open(context.Background(), t.TempDir()); err == nil || !strings.Contains(err.Error(), "not a git repository") {
		t.Errorf("outside of a repository: %v", err)
	}
}

func TestBeforeTheFirstCommit(t *testing.T) {
	repository(t) // for its environment
	dir := t.TempDir()
	git(t, dir, "init", "-q")
	put(t, dir, "plan.ohm.hcl", "new")
	git(t, dir, "add", ".")
	repo, err := Open(context.Background(), dir)
	if err != nil {
		t.Fatal(err)
	}
	if staged, err := repo.Staged(); err != nil || !slices.Equal(staged, []string{"plan.ohm.hcl"}) {
		t.Errorf("staged: %q, %v", staged, err)
	}
}

func reads(t *testing.T, tree *Tree, name, want string) {
	t.Helper()
	got, err := fs.ReadFile(tree, name)
	if err != nil || string(got) != want {
		t.Errorf("%s: %q, %v, want %q", name, got, err, want)
	}
}
