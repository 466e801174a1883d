package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// bare runs tests of this package as they run on a machine that has only the
// programs in bin. What takes long and needs none of them is left out.
func bare(t *testing.T, bin string, flags ...string) (output string, passed bool) {
	t.Helper()
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(self, append(flags, "-test.v", "-test.skip=^TestBare|^TestMutilated|^TestNothingLeaks|^TestActionsEverywhere|^TestNewByAnswers|^TestEditorAgrees|^TestKilled|^TestFullDisk|^TestStandardOutputGone|^TestReplaced|^TestScripts$/^hostile$")...)
	cmd.Env = append(os.Environ(), "PATH="+bin, "GOCOVERDIR="+t.TempDir())
	out, err := cmd.CombinedOutput()
	return string(out), err == nil
}

func withoutNoSkip(t *testing.T) {
	t.Setenv("OHMSTEAD_NO_SKIP", "")
}

// An editor without what drives the server in it skips, one in which it fails
// does not.
func TestBareEditors(t *testing.T) {
	const lacks = "lacks: the plugin"
	for _, c := range []struct {
		name, vim, noSkip string
		passes            bool
		says              string
	}{
		{"without its plugin", "echo " + lacks + "; exit 1", "", true, "--- SKIP: TestEditorsDriveTheServer/Vim"},
		{"without its plugin where all must be there", "echo " + lacks + "; exit 1", "1", false, "the plugin for Vim is needed"},
		{"with a failing step", "echo FAIL: colours; exit 1", "", false, "a step failed"},
		{"that does nothing", "exit 0", "", false, "0 steps were seen"},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Setenv("OHMSTEAD_NO_SKIP", c.noSkip)
			bin := t.TempDir()
			script(t, bin, "vim", c.vim)
			out, passed := bare(t, bin, "-test.run=^TestEditorsDriveTheServer$/^Vim$")
			if passed != c.passes || !strings.Contains(out, c.says) {
				t.Errorf("it passed: %v, want %v, and %q in\n%s", passed, c.passes, c.says, out)
			}
		})
	}
	t.Run("the real Vim whose ALE is held back", func(t *testing.T) {
		vim, err := exec.LookPath("vim")
		if err != nil {
			lacking(t, "vim")
		}
		withoutNoSkip(t)
		vim, err = filepath.Abs(vim)
		if err != nil {
			t.Fatal(err)
		}
		bin := t.TempDir()
		script(t, bin, "vim", `exec '`+vim+`' --cmd 'let g:loaded_ale_dont_use_this_in_other_plugins_please = 1' "$@"`)
		out, passed := bare(t, bin, "-test.run=^TestEditorsDriveTheServer$/^Vim$")
		if !passed || !strings.Contains(out, "the plugin ALE (vim-ale in Debian) for Vim is not there") {
			t.Errorf("it passed: %v\n%s", passed, out)
		}
	})
}
