// Command mutate measures how much the tests of a package notice. It changes the
// code in one small place at a time (a comparison, an operator, a number, a
// condition, a statement left out, a result), and runs the tests: a change that
// no test notices survives, and is printed.
//
//	go run ./cmd/mutate [-n 50] [-seed 1] [-by ./lint/rules,…] ./lint …
//
// Nothing on the disk changes: each package is compiled once by way of an
// overlay, with all of its changes in it and none of them on, and the variable
// MUTANT turns one on. The tests of a package are its own and those that -by
// names. A change is tried on those that come by its place, the quickest first. A
// test that takes ten times as long as without the change has noticed it too.
package main

import (
	"cmp"
	"flag"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"

	"golang.org/x/sync/errgroup"
	"golang.org/x/tools/go/packages"
)

func main() {
	n := flag.Int("n", 0, "how many changes to try, drawn at random; 0 is all")
	seed := flag.Uint64("seed", 1, "what is drawn")
	by := flag.String("by", "", "further packages whose tests count, with commas between")
	flag.Usage = func() {
		fmt.Fprintln(flag.CommandLine.Output(), "usage: go run ./cmd/mutate [-n N] [-seed N] [-by PACKAGES] PACKAGES")
		flag.PrintDefaults()
	}
	flag.Parse()
	if flag.NArg() == 0 {
		flag.Usage()
		os.Exit(2)
	}
	if err := run(os.Stdout, flag.Args(), strings.FieldsFunc(*by, func(r rune) bool { return r == ',' }), *n, *seed); err != nil {
		fmt.Fprintln(os.Stderr, "mutate:", err)
		os.Exit(2)
	}
}

func run(out io.Writer, patterns, by []string, n int, seed uint64) error {
	loaded, err := packages.Load(&packages.Config{Mode: packages.LoadSyntax}, patterns...)
	if err != nil {
		return err
	}
	var all []*mutant
	for _, p := range loaded {
		if len(p.Errors) > 0 {
			return p.Errors[0]
		}
		found, err := mutants(p)
		if err != nil {
			return err
		}
		all = append(all, found...)
	}
	if n == 0 || n > len(all) {
		n = len(all)
	}
	chosen := map[*mutant]bool{}
	for _, i := range rand.New(rand.NewPCG(seed, 0)).Perm(len(all))[:n] {
		chosen[all[i]] = true
	}
	fmt.Fprintf(out, "%d of %d changes\n", n, len(all))

	var total count
	for _, p := range loaded {
		var of []*mutant // in the order of the text, an outer one before what it holds
		for _, m := range all {
			if chosen[m] && m.pkg == p {
				of = append(of, m)
			}
		}
		if len(of) == 0 {
			continue
		}
		c, err := try(out, p, of, append([]string{p.PkgPath}, by...))
		if err != nil {
			return fmt.Errorf("%s: %w", p.PkgPath, err)
		}
		fmt.Fprintf(out, "%s: %s\n", p.PkgPath, c)
		total = count{total.killed + c.killed, total.survived + c.survived, total.unreached + c.unreached}
	}
	fmt.Fprintln(out, "all:", total)
	return nil
}

type count struct{ killed, survived, unreached int }

func (c count) String() string {
	return fmt.Sprintf("%d killed, %d survived, %d reached by no test", c.killed, c.survived, c.unreached)
}

// try compiles the tests with all mutants of a package in them, and runs them
// once for each.
func try(out io.Writer, p *packages.Package, of []*mutant, testers []string) (count, error) {
	dir, err := os.MkdirTemp("", "mutate")
	if err != nil {
		return count{}, err
	}
	defer os.RemoveAll(dir)
	overlay, err := writeOverlay(dir, p, of)
	if err != nil {
		return count{}, err
	}
	var tests []*test
	for i, t := range testers {
		more, err := compile(t, overlay, filepath.Join(dir, fmt.Sprint("tests", i)))
		if err != nil {
			return count{}, err
		}
		tests = append(tests, more...)
	}
	slices.SortFunc(tests, func(a, b *test) int { return cmp.Compare(a.took, b.took) })
	fate := make([]string, len(of))
	var group errgroup.Group
	group.SetLimit(runtime.GOMAXPROCS(0))
	for i := range of {
		group.Go(func() error {
			fate[i] = "unreached"
			for _, t := range tests {
				if !t.reached[i+1] {
					continue
				}
				fate[i] = "survived"
				if t.notices(i + 1) {
					fate[i] = "killed"
					break
				}
			}
			return nil
		})
	}
	if err := group.Wait(); err != nil {
		return count{}, err
	}
	var c count
	for i, m := range of {
		if fate[i] != "killed" {
			fmt.Fprintf(out, "%s\t%s\t%s\n", fate[i], m.at, m.what)
		}
		switch fate[i] {
		case "killed":
			c.killed++
		case "survived":
			c.survived++
		default:
			c.unreached++
		}
	}
	return c, nil
}
