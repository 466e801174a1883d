package wholefile

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"testing"
	"time"
)

func TestWrite(t *testing.T) {
	dir := t.TempDir()
	file := filepath.Join(dir, "plan")
	if err := Write(file, []byte("one")); err != nil {
		t.Fatal(err)
	}
	if err := os.Chmod(file, 0o640); err != nil {
		t.Fatal(err)
	}
	link := filepath.Join(dir, "link")
	if err := os.Symlink("plan", link); err != nil {
		t.Fatal(err)
	}
	if err := Write(link, []byte("two")); err != nil {
		t.Fatal(err)
	}
	if got, err := os.ReadFile(file); err != nil || string(got) != "two" {
		t.Errorf("%q, %v", got, err)
	}
	if info, err := os.Stat(file); err != nil || info.Mode().Perm() != 0o640 {
		t.Errorf("mode %v, %v, want the file's own", info.Mode(), err)
	}
	if info, err := os.Lstat(link); err != nil || info.Mode()&fs.ModeSymlink == 0 {
		t.Errorf("the link is gone: %v, %v", info.Mode(), err)
	}
	left(t, dir, 2)
}

func TestWriteLeavesNothingBehind(t *testing.T) {
	dir := t.TempDir()
	if err := os.Mkdir(filepath.Join(dir, "plan"), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := Write(filepath.Join(dir, "plan"), []byte("x")); err == nil {
		t.Error("a directory was replaced")
	}
	left(t, dir, 1)
}

// What a killed writer left is removed by the next one of the same file, what
// another is writing at the moment is not.
func TestWriteCleansUp(t *testing.T) {
	dir := t.TempDir()
	file := filepath.Join(dir, "plan")
	long := time.Now().Add(-2 * abandoned)
	for name, old := range map[string]bool{".plan.ohmstead-1": true, ".plan.ohmstead-2": false, ".other.ohmstead-1": true, "plan.ohmstead-1": true} {
		if err := os.WriteFile(filepath.Join(dir, name), nil, 0o644); err != nil {
			t.Fatal(err)
		}
		if old {
			if err := os.Chtimes(filepath.Join(dir, name), long, long); err != nil {
				t.Fatal(err)
			}
		}
	}
	if err := Write(file, []byte("x")); err != nil {
		t.Fatal(err)
	}
	if _, err := os.Stat(filepath.Join(dir, ".plan.ohmstead-1")); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("what was abandoned is still there: %v", err)
	}
	left(t, dir, 4)
}

func TestCreate(t *testing.T) {
	file := filepath.Join(t.TempDir(), "plan")
	if err := Create(file, []byte("one")); err != nil {
		t.Fatal(err)
	}
	if err := Create(file, []byte("two")); !errors.Is(err, fs.ErrExist) {
		t.Errorf("a second time: %v", err)
	}
	if got, err := os.ReadFile(file); err != nil || string(got) != "one" {
		t.Errorf("%q, %v", got, err)
	}
}

func left(t *testing.T, dir string, want int) {
	t.Helper()
	entries, err := os.ReadDir(dir)
	if err != nil || len(entries) != want {
		t.Errorf("%d files in the directory, %v, want %d", len(entries), err, want)
	}
}
