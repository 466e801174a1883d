package main

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// mutilations is how many plans are made from the demo plans and judged.
const mutilations = 200

// A plan that was cut off, hit or mixed up is judged like any other: it has
// findings or not, and the program never fails on it.
func TestMutilatedPlans(t *testing.T) {
	names, err := filepath.Glob("../../testdata/plans/*/*.ohm.hcl")
	if err != nil || len(names) == 0 {
		t.Fatalf("%d demo plans, %v", len(names), err)
	}
	var seeds [][]byte
	for _, n := range names {
		text, err := os.ReadFile(n)
		if err != nil {
			t.Fatal(err)
		}
		seeds = append(seeds, text)
	}
	for i := range mutilations {
		t.Run(fmt.Sprint(i), func(t *testing.T) {
			t.Parallel()
			r := rand.New(rand.NewPCG(uint64(i), 1))
			text := mutilate(r, bytes.Clone(seeds[i%len(seeds)]))
			file := filepath.Join(t.TempDir(), "plan.ohm.hcl")
			if err := os.WriteFile(file, text, 0o644); err != nil {
				t.Fatal(err)
			}
			commands := [][]string{{"check", file}, {"show", file, "--format", "json"}, {"fix", file, "--diff"}}
			if i%4 == 0 { // against what it was made from, both ways
				whole := filepath.Join(t.TempDir(), "whole", "plan.ohm.hcl")
				if err := os.MkdirAll(filepath.Dir(whole), 0o755); err != nil {
					t.Fatal(err)
				}
				if err := os.WriteFile(whole, seeds[i%len(seeds)], 0o644); err != nil {
					t.Fatal(err)
				}
				a, b := filepath.Dir(whole), filepath.Dir(file)
				commands = append(commands, []string{"compare", a, b}, []string{"compare", b, a, "--format", "html", "--fail-on", "never"})
			}
			if i%20 == 0 { // every command and form
				commands = append(commands, allCalls(t, filepath.Dir(file), filepath.Dir(file), t.TempDir())...)
			}
			for _, args := range commands {
				var out, errs strings.Builder
				code := run(args, strings.NewReader(""), &out, &errs)
				refused := code > 1 && i%20 == 0 && // as a layout of broken text, or the limits of a block that it has lost
					(!slices.Contains([]string{"check", "show", "fix", "compare"}, args[0]) || slices.Contains(args, "--limits"))
				if code > 1 && !refused || strings.Contains(errs.String(), "failed on this plan") {
					t.Errorf("%s ends with %d and says %s\nof\n%q", args[0], code, errs.String(), text)
				}
			}
		})
	}
}

// mutilate does one to four kinds of harm to a text.
func mutilate(r *rand.Rand, text []byte) []byte {
	for range 1 + r.IntN(4) {
		if len(text) == 0 {
			break
		}
		text = harms[r.IntN(len(harms))](r, text)
	}
	return text
}

var (
	topBlock  = regexp.MustCompile(`(?ms)^[a-z]+ [^\n]*\{$.*?^\}$`)
	reference = regexp.MustCompile(`\b(strip|run|wire|supply|joint|diffuser|controller|surface)\.\w+`)
)

var quotedText = regexp.MustCompile(`"[^"\n]*"`)

var harms = []func(*rand.Rand, []byte) []byte{
	func(r *rand.Rand, b []byte) []byte { return b[:r.IntN(len(b))] },
	func(r *rand.Rand, b []byte) []byte { // bits flipped
		for range 1 + r.IntN(10) {
			b[r.IntN(len(b))] ^= 1 << r.IntN(8)
		}
		return b
	},
	swapQuoted,
	func(r *rand.Rand, b []byte) []byte { // a stretch left out
		i := r.IntN(len(b))
		return append(b[:i:i], b[min(i+r.IntN(200), len(b)):]...)
	},
	func(r *rand.Rand, b []byte) []byte { // a stretch doubled
		i := r.IntN(len(b))
		j := min(i+r.IntN(200), len(b))
		return append(append(b[:j:j], b[i:j]...), b[j:]...)
	},
	func(r *rand.Rand, b []byte) []byte { // a block left out, or what a merge leaves behind put around it
		at := topBlock.FindAllIndex(b, -1)
		if len(at) == 0 {
			return b
		}
		x := at[r.IntN(len(at))]
		if r.IntN(2) == 0 {
			return append(b[:x[0]:x[0]], b[x[1]:]...)
		}
		return slices.Concat(b[:x[0]], []byte("<<<<<<< ours\n"), b[x[0]:x[1]], []byte("\n=======\n>>>>>>> theirs\n"), b[x[1]:])
	},
	func(r *rand.Rand, b []byte) []byte { // a reference to nothing
		at := reference.FindAllIndex(b, -1)
		if len(at) == 0 {
			return b
		}
		x := at[r.IntN(len(at))]
		return slices.Concat(b[:x[1]], []byte("x"), b[x[1]:])
	},
	func(r *rand.Rand, b []byte) []byte { // a number that is far too large, or none
		odd := []string{"0", "-1", "1e9", "999999999", "0.0000001", "1e400", "nan"}
		at := regexp.MustCompile(`\d+`).FindAllIndex(b, -1)
		if len(at) == 0 {
			return b
		}
		x := at[r.IntN(len(at))]
		return append(append(b[:x[0]:x[0]], odd[r.IntN(len(odd))]...), b[x[1]:]...)
	},
}

// swapQuoted swaps the values of two attributes, or two names.
func swapQuoted(r *rand.Rand, b []byte) []byte {
	at := quotedText.FindAllIndex(b, -1)
	if len(at) < 2 {
		return b
	}
	i, j := r.IntN(len(at)), r.IntN(len(at))
	if i == j {
		return b
	}
	if i > j {
		i, j = j, i
	}
	return bytes.Join([][]byte{b[:at[i][0]], b[at[j][0]:at[j][1]], b[at[i][1]:at[j][0]], b[at[i][0]:at[i][1]], b[at[j][1]:]}, nil)
}
