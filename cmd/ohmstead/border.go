package main

import (
	"errors"
	"fmt"
	"os"
	"strings"

	"ohmstead/cmd/ohmstead/internal/workspace"
	"ohmstead/schema/plans"
)

// toWrite is where a command that writes may do so: where its paths say; without
// one in the current directory if that is a plan, or lies in a repository, as
// whatever is lost there can be had again.
func toWrite(args []string) ([]string, error) {
	if len(args) > 0 {
		return args, nil
	}
	entries, err := os.ReadDir(".")
	if err != nil {
		return nil, err
	}
	for _, e := range entries {
		if strings.HasSuffix(e.Name(), plans.Suffix) {
			return []string{"."}, nil
		}
	}
	repository, err := workspace.Repository(".")
	if err == nil && repository == "" {
		err = errors.New("no PATH was given, and the current directory is no plan and lies in no repository; name what may be written")
	}
	return []string{"."}, err
}

// border tells files of the repositories that some paths lie in from those of
// others within them, which nobody asked to change.
type border map[string]bool

func borderOf(args []string) (border, error) {
	b := border{}
	for _, arg := range args {
		repository, err := workspace.Repository(arg)
		if err != nil {
			return nil, err
		}
		b[repository] = true
	}
	return b, nil
}

// crossed is an error for a file that lies beyond.
func (b border) crossed(file string) error {
	repository, err := workspace.Repository(file)
	if err == nil && !b[repository] {
		err = fmt.Errorf("%s lies in another repository, %s, and is left as it is; name a path in that to change it", file, repository)
	}
	return err
}
