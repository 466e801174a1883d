package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// Real editors drive the program, which TestMain puts on the path, as their
// language server: each check script opens a broken plan, sees the finding,
// completes, mends, and so on, and prints a line for each step, or only what
// this editor lacks for it.
func TestEditorsDriveTheServer(t *testing.T) {
	program, err := exec.LookPath("ohmstead")
	if err != nil {
		t.Fatal(err)
	}
	editors, err := filepath.Abs("../../editors")
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		name, tool string
		args       []string
		steps      int // that it takes at least
	}{
		{"Neovim", "nvim", []string{"--headless", "-u", "NONE", "-i", "NONE", "-n", "-S", "neovim/check.lua"}, 9},
		{"a first plan in Neovim", "nvim", []string{"--headless", "-u", "NONE", "-i", "NONE", "-n", "-S", "neovim/first.lua"}, 7},
		{"Emacs", "emacs", []string{"--batch", "-q", "-l", "emacs/check.el"}, 9},
		{"Vim", "vim", []string{"-es", "-u", "NONE", "-i", "NONE", "-n", "-N", "-S", "vim/check.vim"}, 5},
	} {
		t.Run(c.name, func(t *testing.T) {
			if _, err := exec.LookPath(c.tool); err != nil {
				lacking(t, c.tool)
			}
			plan := filepath.Join(t.TempDir(), "porch arch")
			if err := os.CopyFS(plan, os.DirFS(filepath.Join(editors, "testdata", "broken"))); err != nil {
				t.Fatal(err)
			}
			cmd := exec.Command(c.tool, c.args...)
			cmd.Dir = editors
			cmd.Env = append(os.Environ(), "OHMSTEAD_BIN="+program, "PLAN="+plan, "HOME="+t.TempDir(), "TERM=dumb")
			out, err := cmd.CombinedOutput()
			t.Logf("%s", out)
			if _, lacks, ok := strings.Cut(string(out), "lacks: "); ok {
				lacks, _, _ = strings.Cut(lacks, "\n")
				lacking(t, lacks+" for "+c.name)
			}
			if err != nil || strings.Contains(string(out), "FAIL:") {
				t.Errorf("a step failed: %v", err)
			}
			if n := strings.Count(string(out), "ok:"); n < c.steps {
				t.Errorf("%d steps were seen, want %d", n, c.steps)
			}
		})
	}
}
