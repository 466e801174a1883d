package main

import (
	"fmt"
	"runtime/debug"
	"strings"

	"github.com/spf13/cobra"
)

func newVersion() *cobra.Command {
	return &cobra.Command{
		Use:   "version",
		Short: "Print the version",
		Args:  arguments(0, 0, "argument"),
		RunE: func(cmd *cobra.Command, _ []string) error {
			_, err := fmt.Fprintln(cmd.OutOrStdout(), "ohmstead "+version())
			return err
		},
	}
}

// version is the module's version or, built from a working tree, its commit.
func version() string {
	info, ok := debug.ReadBuildInfo()
	if !ok {
		return "unknown"
	}
	revision, modified := "", ""
	for _, s := range info.Settings {
		switch {
		case s.Key == "vcs.revision":
			revision = s.Value[:min(12, len(s.Value))]
		case s.Key == "vcs.modified" && s.Value == "true":
			modified = "+changes"
		}
	}
	out := info.Main.Version
	if out == "" || out == "(devel)" {
		out = "devel"
		if revision != "" {
			out += " " + revision + modified
		}
	}
	return out
}

// release is a version as other programs compare it, a number first; empty
// for that of what was built from a working tree.
func release(version string) string {
	v := strings.TrimPrefix(version, "v")
	if v == "" || v[0] < '0' || v[0] > '9' {
		return ""
	}
	return v
}
