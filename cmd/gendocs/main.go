// Gendocs writes every generated file of the project, or with -check only says
// which of them are stale.
package main

import (
	"flag"
	"fmt"
	"os"
)

func main() {
	check := flag.Bool("check", false, "write nothing; fail when a file is stale")
	root := flag.String("root", ".", "the project's directory")
	flag.Parse()
	stale, err := generate(*root, !*check)
	if err != nil {
		fmt.Fprintln(os.Stderr, "gendocs:", err)
		os.Exit(2)
	}
	if *check && len(stale) > 0 {
		for _, f := range stale {
			fmt.Fprintln(os.Stderr, "stale:", f)
		}
		fmt.Fprintln(os.Stderr, "run: go generate ./cmd/gendocs")
		os.Exit(1)
	}
}
