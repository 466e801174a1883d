//go:build long

package main

import (
	"bytes"
	"fmt"
	"io/fs"
	"maps"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"
)

// kills is how often fmt and fix are killed while they write.
const kills = 300

// cheap makes what a process does beside its writing cheap.
var cheap = []string{"GOMAXPROCS=1", "GOGC=off"}

// toWork makes a plan of several files, of which each gives fmt and fix something
// to write: a layout, and a comment that silences nothing.
func toWork(t *testing.T, dir string) {
	t.Helper()
	rest := strings.Repeat("# as it was found, and nothing has been changed since\n", 100)
	for i := range 4 {
		head := ""
		if i == 0 {
			head = "plan \"p\" { mains = \"230 V\" }\n"
		}
		put(t, filepath.Join(dir, fmt.Sprintf("f%d.ohm.hcl", i)), fmt.Sprintf("%s# ohmstead: allow rate-low because of old times\nwire \"w%d\" {\ngauge   =   \"16 AWG\"\n}\n%s", head, i, rest))
	}
}

func put(t *testing.T, file, text string) {
	t.Helper()
	if err := os.MkdirAll(filepath.Dir(file), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(file, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
}

// filesIn are the texts of all files in a directory and below.
func filesIn(t *testing.T, dir string) map[string]string {
	t.Helper()
	out := map[string]string{}
	err := filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		text, err := os.ReadFile(path)
		name, _ := filepath.Rel(dir, path)
		out[name] = string(text)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// whole fails where a file is neither what it was nor what it is to become. It
// counts those that are new, and returns what writers left beside them.
func whole(t *testing.T, dir string, before, after map[string]string) (written int, left []string) {
	t.Helper()
	now := filesIn(t, dir)
	for name := range before {
		if _, ok := now[name]; !ok {
			t.Fatalf("%s is gone", name)
		}
	}
	for name, text := range now {
		was, old := before[name]
		is, wanted := after[name]
		switch {
		case !old && !wanted && strings.HasPrefix(filepath.Base(name), "."):
			left = append(left, filepath.Join(dir, name))
		case wanted && text == is:
			if !old || was != is {
				written++
			}
		case !old || text != was:
			t.Fatalf("%s is half written, or of nobody's making: %d bytes, was %d, is to be %d", name, len(text), len(was), len(is))
		}
	}
	return written, left
}

// A writer that is killed at any moment leaves each file whole, old or new. What
// it leaves beside them the next one removes.
func TestKilledWhileWriting(t *testing.T) {
	for i, command := range []string{"fmt", "fix"} {
		t.Run(command, func(t *testing.T) {
			dir := t.TempDir()
			toWork(t, dir)
			before := filesIn(t, dir)
			r := rand.New(rand.NewPCG(uint64(i), 4))

			// begin starts the command, and returns when it has begun to write or has ended.
			begin := func() (*exec.Cmd, chan error) {
				for name, text := range before {
					put(t, filepath.Join(dir, name), text)
				}
				quiet := time.Now().Add(-time.Hour)
				if err := os.Chtimes(dir, quiet, quiet); err != nil {
					t.Fatal(err)
				}
				info, err := os.Stat(dir)
				if err != nil {
					t.Fatal(err)
				}
				c := exec.Command("ohmstead", command, dir)
				c.Env = append(os.Environ(), cheap...)
				if err := c.Start(); err != nil {
					t.Fatal(err)
				}
				ended := make(chan error, 1)
				go func() { ended <- c.Wait() }()
				for {
					now, err := os.Stat(dir)
					if err != nil {
						t.Fatal(err)
					}
					if len(ended) > 0 || !now.ModTime().Equal(info.ModTime()) {
						return c, ended
					}
					time.Sleep(time.Millisecond)
				}
			}

			_, ended := begin()
			start := time.Now()
			if err := <-ended; err != nil {
				t.Fatal(err)
			}
			writing := time.Since(start) // about what a run takes that is not disturbed, without what comes before
			after := filesIn(t, dir)
			if written, left := whole(t, dir, before, after); written != len(before) || len(left) > 0 {
				t.Fatalf("undisturbed, %d of %d files are written, and there is %q", written, len(before), left)
			}

			killed, mixed, leftovers, tries := 0, 0, 0, 0
			for ; killed < kills; tries++ {
				if tries > 20*kills {
					t.Fatalf("%d runs ended before they could be killed", tries-killed)
				}
				c, ended := begin()
				time.Sleep(time.Duration(r.Int64N(int64(writing) + 1)))
				_ = c.Process.Kill() // it may have ended
				if <-ended != nil {
					killed++
					writing += writing / 50
				} else { // so that on a machine with moods most are killed in time
					writing -= writing / 10
				}
				written, left := whole(t, dir, before, after)
				if written > 0 && written < len(before) {
					mixed++
				}
				leftovers += len(left)
				for _, name := range left { // as old as the next writer finds it some time later
					then := time.Now().Add(-time.Hour)
					if err := os.Chtimes(name, then, then); err != nil {
						t.Fatal(err)
					}
				}
			}
			t.Logf("%d killed, %d with some files written and some not, %d temporary files left; %d runs", killed, mixed, leftovers, tries)
			if mixed < kills/10 || leftovers < kills/10 {
				t.Error("too few were killed while they wrote")
			}
			_, ended = begin()
			if err := <-ended; err != nil {
				t.Fatal(err)
			}
			if written, left := whole(t, dir, before, after); written != len(before) || len(left) > 0 {
				t.Errorf("the next run writes %d of %d files and leaves %q", written, len(before), left)
			}
		})
	}
}

// On a full disk a command that writes ends with a sentence and code 2, and each
// file is what it was or what it was to become. The shell's limit on the size of
// a file stands for the disk; its unit is 512 bytes.
func TestFullDisk(t *testing.T) {
	if _, err := exec.LookPath("sh"); err != nil {
		lacking(t, "sh")
	}
	demo, err := os.ReadFile("../../testdata/plans/stair/plan.ohm.hcl")
	if err != nil {
		t.Fatal(err)
	}
	for _, args := range []string{
		"fmt p", "fix p",
		"check p --format sarif:p/report --fail-on never", "check p --baseline p/known --write-baseline",
		"compare demo p --format html:p/report --fail-on never",
		"sheets demo -o p/paper", "new p/next",
	} {
		t.Run(args, func(t *testing.T) {
			t.Parallel()
			fresh := func() string {
				dir := t.TempDir()
				toWork(t, filepath.Join(dir, "p"))
				put(t, filepath.Join(dir, "p/report"), strings.Repeat("the last one\n", 1000))
				put(t, filepath.Join(dir, "demo/plan.ohm.hcl"), string(demo))
				return dir
			}
			dir := fresh()
			before := filesIn(t, dir)
			c := exec.Command("ohmstead", strings.Fields(args)...)
			c.Dir = dir
			if out, err := c.CombinedOutput(); err != nil {
				t.Fatalf("undisturbed: %v\n%s", err, out)
			}
			after := filesIn(t, dir)
			if maps.Equal(before, after) {
				t.Fatal("undisturbed, nothing is written")
			}
			for _, blocks := range []string{"0", "1"} {
				dir := fresh()
				c := exec.Command("sh", "-c", "ulimit -f "+blocks+"; exec ohmstead \"$@\"", "sh")
				c.Args = append(c.Args, strings.Fields(args)...)
				c.Dir = dir
				var errs strings.Builder
				c.Stderr = &errs
				_ = c.Run() // the code below
				if code := c.ProcessState.ExitCode(); code != 2 || !strings.Contains(errs.String(), "file too large") {
					t.Errorf("with %s blocks it ends with %d (%v) and says %q", blocks, code, c.ProcessState, errs.String())
				}
				sentences(t, errs.String())
				if _, left := whole(t, dir, before, after); len(left) > 0 {
					t.Errorf("with %s blocks it leaves %q", blocks, left)
				}
			}
		})
	}
}

// sentences holds that a standard error has whole lines of the program's own and
// no trace of a panic.
func sentences(t *testing.T, errs string) {
	t.Helper()
	if errs != "" && !strings.HasSuffix(errs, "\n") {
		t.Errorf("it breaks off: %q", errs)
	}
	for _, l := range strings.Split(strings.TrimSuffix(errs, "\n"), "\n") {
		if l != "" && !strings.HasPrefix(l, "ohmstead: ") && !strings.HasPrefix(l, "  | ") {
			t.Errorf("it says %q", l)
		}
	}
}

// A report that cannot be written, for its disk is full, is no success. One that
// nobody reads to its end is no matter: the program ends without a word.
func TestStandardOutputGone(t *testing.T) {
	work := t.TempDir()
	a, b, out := filepath.Join(work, "a"), filepath.Join(work, "b"), filepath.Join(work, "out")
	toWork(t, a)
	demo, err := os.ReadFile("../../testdata/plans/stair/plan.ohm.hcl")
	if err != nil {
		t.Fatal(err)
	}
	put(t, filepath.Join(b, "plan.ohm.hcl"), string(demo))
	if err := os.Mkdir(out, 0o755); err != nil {
		t.Fatal(err)
	}
	calls := append(allCalls(t, b, a, out),
		[]string{"check", b}, []string{"check", b, "--quiet"}, []string{"fix", a, "--diff"}, []string{"view", b}, []string{"fmt", a}, []string{"fix", a}, []string{"new", filepath.Join(work, "next")},
		[]string{"explain", "fuse-high"}, []string{"catalog", "catalog.ws2812b_5v_60"}, []string{"lsp"}, []string{"--help"}, []string{"--version"})
	const hello = `{"jsonrpc":"2.0","id":1,"method":"initialize","params":{"capabilities":{}}}`
	full, err := os.OpenFile("/dev/full", os.O_WRONLY, 0)
	if err != nil {
		t.Fatal(err)
	}
	defer full.Close()
	for _, args := range calls {
		read, write, err := os.Pipe()
		if err != nil {
			t.Fatal(err)
		}
		read.Close()
		var errs bytes.Buffer
		c := exec.Command("ohmstead", args...)
		c.Dir = work
		c.Env = append(os.Environ(), cheap...)
		c.Stdin = strings.NewReader(fmt.Sprintf("Content-Length: %d\r\n\r\n%s", len(hello), hello))
		c.Stdout, c.Stderr = write, &errs
		_ = c.Run() // the code below
		if code := c.ProcessState.ExitCode(); code > 2 {
			t.Errorf("%q on a closed pipe ends with %v and says %q", args, c.ProcessState, errs.String())
		}
		sentences(t, summary.ReplaceAllString(errs.String(), ""))
		write.Close()

		if !prints(args) {
			continue
		}
		errs.Reset()
		if code := run(args, strings.NewReader(""), full, &errs); code != 2 {
			t.Errorf("%q on a full disk ends with %d and says %q", args, code, errs.String())
		}
		sentences(t, summary.ReplaceAllString(errs.String(), ""))
	}
}

// summary is the line that people read on the standard error when a report goes elsewhere.
var summary = regexp.MustCompile(`(?m)^\d+ plans?: .*\n`)

// prints reports whether a call has something for the standard output that is lost with it.
func prints(args []string) bool {
	switch {
	case args[0] == "--help", args[0] == "lsp", args[0] == "view", slices.Contains(args, "--quiet"):
		return false
	case args[0] == "fix" || args[0] == "fmt": // the demo plan leaves them nothing to say
		return filepath.Base(args[1]) == "a"
	}
	i := slices.Index(args, "--format")
	return i < 0 || !strings.Contains(args[i+1], ":")
}

// A plan that is replaced while it is read, as editors and git do it, is read in
// one of its versions.
func TestReplacedWhileRead(t *testing.T) {
	text, err := os.ReadFile("../../testdata/plans/stair/plan.ohm.hcl")
	if err != nil {
		t.Fatal(err)
	}
	other := append(text[:len(text):len(text)], "\n# ohmstead: allow rate-low because of old times\nwire \"other\" { gauge = \"16 AWG\" }\n"...)
	dir := t.TempDir()
	demo, plan := filepath.Join(dir, "demo"), filepath.Join(dir, "plan")
	file := filepath.Join(plan, "plan.ohm.hcl")
	put(t, filepath.Join(demo, "plan.ohm.hcl"), string(text))
	put(t, file, string(text))
	calls := [][]string{
		{"check", plan}, {"show", plan}, {"show", plan, "--format", "json"}, {"fix", plan, "--diff"},
		{"compare", demo, plan, "--fail-on", "never"}, {"compare", plan, demo, "--fail-on", "never"},
	}
	result := func(args []string) string {
		var out, errs strings.Builder
		code := run(args, strings.NewReader(""), &out, &errs)
		return fmt.Sprintf("%d\n%s\n%s", code, out.String(), errs.String())
	}
	wanted := make([]map[string]int, len(calls))
	for i, args := range calls {
		wanted[i] = map[string]int{}
		for _, version := range [][]byte{text, other} {
			put(t, file, string(version))
			wanted[i][result(args)] = 0
		}
	}

	stop, stopped := make(chan bool), make(chan error, 1)
	go func() {
		var err error
		for i := 0; err == nil; i++ {
			select {
			case <-stop:
				stopped <- nil
				return
			case <-time.After(time.Duration(i%7) * 100 * time.Microsecond):
			}
			next := filepath.Join(dir, "next")
			if err = os.WriteFile(next, [][]byte{text, other}[i%2], 0o644); err == nil {
				err = os.Rename(next, file)
			}
		}
		stopped <- err
	}()
	for i, args := range calls {
		for range 50 {
			got := result(args)
			if _, ok := wanted[i][got]; !ok {
				t.Fatalf("%q says of neither version:\n%s", args, got)
			}
			wanted[i][got]++
		}
	}
	close(stop)
	if err := <-stopped; err != nil {
		t.Fatal(err)
	}
	for i, args := range calls {
		for _, n := range wanted[i] {
			if len(wanted[i]) < 2 || n == 0 {
				t.Errorf("%q met one version only", args)
			}
		}
	}
}
