//go:build !unix

package main

import "io"

// polled is of use on Unix only.
func polled(in io.Reader) io.Reader { return in }
