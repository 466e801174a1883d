package main

import (
	"bytes"
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"

	"ohmstead/lint"
	"ohmstead/lint/rules"
)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"ohmstead": main, "ohmstead-failing": failing})
}

// failing is the program with a guard rule that fails on every plan.
func failing() {
	rules.All = append(rules.All, &lint.Rule{Name: "failing", Title: "A rule with a mistake", Level: lint.Error, Guard: true, Check: func(p *lint.Pass) {
		p.Report(lint.Finding{Message: "half a finding"})
		_ = p.Plan.Leads[len(p.Plan.Leads)]
	}})
	main()
}

// The scripts run the real program in a directory of their own. Beside the
// usual commands they have:
//
//	code N ohmstead ...   runs the program, which must end with exit code N
//	ohmstead-failing ...  is the program with a rule that fails
//	replace FILE OLD NEW  replaces text in a file; \n, \r and \ufeff are understood
//	hostile KIND FILE     writes a file that no sensible program should choke on
//	quoted FILE TEXT      compares the bytes of a file, quoted, with a text
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir:                 "../../testdata/cli",
		UpdateScripts:       *update,
		RequireExplicitExec: true,
		Setup: func(e *testscript.Env) error {
			e.Setenv("GIT_CONFIG_GLOBAL", os.DevNull)
			e.Setenv("GIT_CONFIG_SYSTEM", os.DevNull)
			for _, name := range []string{"MUTANT", "MUTANT_SEEN"} { // of cmd/mutate
				e.Setenv(name, os.Getenv(name))
			}
			for _, who := range []string{"AUTHOR", "COMMITTER"} {
				e.Setenv("GIT_"+who+"_NAME", "A")
				e.Setenv("GIT_"+who+"_EMAIL", "a@example.org")
			}
			return nil
		},
		Condition: func(cond string) (bool, error) {
			tool, ok := strings.CutPrefix(cond, "tool:")
			if !ok {
				return false, errors.New("unknown condition " + cond)
			}
			_, err := exec.LookPath(tool)
			if err != nil && os.Getenv("OHMSTEAD_NO_SKIP") != "" {
				return false, err
			}
			return err == nil, nil
		},
		Cmds: map[string]func(*testscript.TestScript, bool, []string){
			"code":    scriptCode,
			"replace": scriptReplace,
			"hostile": scriptHostile,
			"quoted":  scriptQuoted,
		},
	})
}

func scriptCode(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: code N program args...")
	}
	want, err := strconv.Atoi(args[0])
	ts.Check(err)
	got := 0
	if err := ts.Exec(args[1], args[2:]...); err != nil {
		var exit *exec.ExitError
		if !errors.As(err, &exit) {
			ts.Fatalf("%v", err)
		}
		got = exit.ExitCode()
	}
	if got != want {
		ts.Fatalf("%s ended with %d, want %d", strings.Join(args[1:], " "), got, want)
	}
}

var scriptEscapes = strings.NewReplacer(`\n`, "\n", `\r`, "\r", `\ufeff`, "\ufeff")

func scriptReplace(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 3 {
		ts.Fatalf("usage: replace FILE OLD NEW")
	}
	file := ts.MkAbs(args[0])
	text, err := os.ReadFile(file)
	ts.Check(err)
	old, next := []byte(scriptEscapes.Replace(args[1])), []byte(scriptEscapes.Replace(args[2]))
	if !bytes.Contains(text, old) {
		ts.Fatalf("%s does not hold %q", args[0], old)
	}
	ts.Check(os.WriteFile(file, bytes.ReplaceAll(text, old, next), 0o666))
}

func scriptQuoted(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 2 {
		ts.Fatalf("usage: quoted FILE TEXT")
	}
	text, err := os.ReadFile(ts.MkAbs(args[0]))
	ts.Check(err)
	if got := strings.Trim(strconv.QuoteToASCII(string(text)), `"`); got != args[1] {
		ts.Fatalf("%s is %s, want %s", args[0], got, args[1])
	}
}

const hostileHead = "plan \"p\" {\n  title = \"x\"\n}\n"

// hostile are files of the kinds that parsers and readers are known to choke on.
var hostile = map[string]func() string{
	"large":    func() string { return hostileHead + strings.Repeat("# nothing\n", 1<<20) },
	"brackets": func() string { return hostileHead + "x = " + strings.Repeat("[", 100_000) + "\n" },
	"parens": func() string {
		return hostileHead + "run \"a\" {\n  length = " + strings.Repeat("(", 100_000) + "\n}\n"
	},
	"blocks":    func() string { return hostileHead + strings.Repeat("a {\n", 100_000) },
	"templates": func() string { return hostileHead + "x = " + strings.Repeat("\"${", 50_000) + "\n" },
	"digits": func() string {
		return hostileHead + "run \"a\" {\n  pixels = " + strings.Repeat("9", 1_000_000) + "\n}\n"
	},
	"comments":   func() string { return hostileHead + strings.Repeat("/* ", 50_000) },
	"slashes":    func() string { return hostileHead + strings.Repeat("/*", 100_000) },
	"heredoc":    func() string { return hostileHead + "x = <<EOT\n" + strings.Repeat("line\n", 100_000) },
	"attributes": func() string { return hostileHead + strings.Repeat("a = 1\n", 500_000) },
	"nul":        func() string { return hostileHead + strings.Repeat("\x00", 100_000) },
	"latin":      func() string { return hostileHead + strings.Repeat("\xe9\xff", 100_000) },
	"utf16":      func() string { return "\xff\xfep\x00l\x00" },
	"pixels":     func() string { return hostileHead + "run \"a\" {\n  pixels = 1000000000000\n}\n" },
	"negative":   func() string { return hostileHead + "run \"a\" {\n  length = \"-3 m\"\n}\n" },
	"nan":        func() string { return hostileHead + "run \"a\" {\n  length = \"NaN m\"\n}\n" },
}

func scriptHostile(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 2 || hostile[args[0]] == nil {
		ts.Fatalf("usage: hostile KIND FILE")
	}
	file := ts.MkAbs(args[1])
	ts.Check(os.MkdirAll(filepath.Dir(file), 0o777))
	ts.Check(os.WriteFile(file, []byte(hostile[args[0]]()), 0o666))
}
