package main

import (
	"bufio"
	"bytes"
	"context"
	"io"
	"net/http"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"
)

// The page shows a plan, and again when its file is saved; it ends with the command.
func TestView(t *testing.T) {
	dir := t.TempDir()
	file := filepath.Join(dir, "plan.ohm.hcl")
	text, err := os.ReadFile("../../testdata/plans/porch-arch/plan.ohm.hcl")
	if err != nil {
		t.Fatal(err)
	}
	write := func(text []byte) {
		if err := os.WriteFile(file, text, 0o666); err != nil {
			t.Fatal(err)
		}
	}
	write(text)

	ctx, cancel := context.WithTimeout(t.Context(), time.Minute)
	defer cancel()
	read, out := io.Pipe()
	root := newRoot()
	root.SetArgs([]string{"view", dir})
	root.SetOut(out)
	ended := make(chan error, 1)
	go func() { ended <- root.ExecuteContext(ctx) }()
	said, err := bufio.NewReader(read).ReadString('\n')
	if err != nil {
		t.Fatal(err)
	}
	address := regexp.MustCompile(`http://127\.0\.0\.1:\d+/[\w-]{24}/`).FindString(said)
	if address == "" || !strings.Contains(said, "is shown at") {
		t.Fatalf("it says %q", said)
	}

	r, err := http.NewRequestWithContext(t.Context(), "GET", address+"events", nil)
	if err != nil {
		t.Fatal(err)
	}
	answer, err := http.DefaultClient.Do(r)
	if err != nil {
		t.Fatal(err)
	}
	defer answer.Body.Close()
	events := bufio.NewScanner(answer.Body)
	events.Buffer(nil, 16<<20)
	var last string // several changes may come as one
	until := func(what string) {
		t.Helper()
		for !strings.Contains(last, what) {
			if !events.Scan() {
				t.Fatalf("the events ended without %s", what)
			}
			last = events.Text()
		}
	}
	until(`"findings":[]`)
	saved := time.Now()
	write(bytes.Replace(text, []byte("1.2 m"), []byte("30 m"), 1))
	until(`"volts/run.arch"`)
	t.Logf("the voltages are there %s after the file was saved", time.Since(saved).Round(time.Millisecond))
	until(`"findings":[{`)

	cancel()
	if err := <-ended; err != nil {
		t.Errorf("it ended with: %v", err)
	}
	if _, err := http.Get(address); err == nil {
		t.Error("the page is there after the command")
	}
}

func TestViewNeedsOnePlan(t *testing.T) {
	for args, want := range map[string]string{
		"../../testdata/plans":      "holds 5 plans",
		"../../testdata/plans/none": "no such file",
	} {
		root := newRoot()
		root.SetArgs([]string{"view", args})
		root.SetOut(io.Discard)
		if err := root.ExecuteContext(t.Context()); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("view %s: %v, want %q", args, err, want)
		}
	}
}
