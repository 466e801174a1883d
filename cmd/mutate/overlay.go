package main

import (
	"cmp"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"golang.org/x/tools/go/packages"
)

// writeOverlay writes the package's files with its mutants in them, numbered
// from 1, and the file that tells the go command.
func writeOverlay(dir string, p *packages.Package, of []*mutant) (string, error) {
	byFile := map[string][]edit{}
	for i, m := range of {
		for _, e := range m.edits {
			e.text, e.number = strings.ReplaceAll(e.text, "#", fmt.Sprint(i+1)), i+1
			byFile[m.file] = append(byFile[m.file], e)
		}
	}
	replace := map[string]string{filepath.Join(p.Dir, "mutant_switch.go"): filepath.Join(dir, "mutant_switch.go")}
	if err := os.WriteFile(filepath.Join(dir, "mutant_switch.go"), []byte(fmt.Sprintf(switches, p.Name, len(of)+1)), 0o600); err != nil {
		return "", err
	}
	for file, edits := range byFile {
		data, err := os.ReadFile(file)
		if err != nil {
			return "", err
		}
		to := filepath.Join(dir, filepath.Base(file))
		if err := os.WriteFile(to, []byte(edited(string(data), edits)), 0o600); err != nil {
			return "", err
		}
		replace[file] = to
	}
	data, err := json.Marshal(map[string]any{"Replace": replace})
	if err != nil {
		return "", err
	}
	overlay := filepath.Join(dir, "overlay.json")
	return overlay, os.WriteFile(overlay, data, 0o600)
}

// edited is a text with edits in it. Mutants are numbered from the outside in.
func edited(text string, edits []edit) string {
	slices.SortFunc(edits, func(a, b edit) int {
		inward := cmp.Compare(a.number, b.number)
		if a.side == suffix {
			inward = -inward
		}
		return cmp.Or(cmp.Compare(a.at, b.at), cmp.Compare(a.side, b.side), inward)
	})
	var out strings.Builder
	done := 0
	for _, e := range edits {
		out.WriteString(text[done:e.at] + e.text)
		done = e.at + e.out
	}
	return out.String() + text[done:]
}

// switches is the file that a package with mutants gets, from its name and the
// number of its mutants and one.
const switches = `package %[1]s

import (
	"cmp"
	"fmt"
	"os"
	"strconv"
	"sync/atomic"
)

var (
	mutantNow, _ = strconv.Atoi(os.Getenv("MUTANT"))
	mutantLog    = os.Getenv("MUTANT_SEEN")
	mutantSeen   [%[2]d]atomic.Bool
)

func mutantOn(n int) bool {
	if mutantLog != "" && !mutantSeen[n].Swap(true) {
		f, err := os.OpenFile(mutantLog, os.O_APPEND|os.O_CREATE|os.O_WRONLY, 0o600)
		if err != nil {
			panic(err)
		}
		fmt.Fprintln(f, n)
		f.Close()
	}
	return n == mutantNow
}

func mutantPick[T any](n int, as, instead T) T {
	if mutantOn(n) {
		return instead
	}
	return as
}

func mutantZero[T any](n int, as T) T { var zero T; return mutantPick(n, as, zero) }

func mutantNumber[T int | float64](n int, as T) T { return mutantPick(n, as, as+as/2+1) }

func mutantLess[T cmp.Ordered](n int, a, b T) bool         { return mutantPick(n, a < b, a <= b) }
func mutantLessEqual[T cmp.Ordered](n int, a, b T) bool    { return mutantPick(n, a <= b, a < b) }
func mutantGreater[T cmp.Ordered](n int, a, b T) bool      { return mutantPick(n, a > b, a >= b) }
func mutantGreaterEqual[T cmp.Ordered](n int, a, b T) bool { return mutantPick(n, a >= b, a > b) }

func mutantAnd(n int, a bool, b func() bool) bool {
	if mutantOn(n) {
		return a || b()
	}
	return a && b()
}

func mutantOr(n int, a bool, b func() bool) bool {
	if mutantOn(n) {
		return a && b()
	}
	return a || b()
}

type mutantReal interface {
	~int | ~int8 | ~int16 | ~int32 | ~int64 | ~uint | ~uint8 | ~uint16 | ~uint32 | ~uint64 | ~uintptr | ~float32 | ~float64
}

func mutantAdd[T mutantReal](n int, a, b T) T { return mutantPick(n, a+b, a-b) }
func mutantSub[T mutantReal](n int, a, b T) T { return mutantPick(n, a-b, a+b) }

func mutantMul[T mutantReal](n int, a, b T) T {
	if mutantOn(n) {
		return a / b
	}
	return a * b
}

func mutantDiv[T mutantReal](n int, a, b T) T {
	if mutantOn(n) {
		return a * b
	}
	return a / b
}
`
