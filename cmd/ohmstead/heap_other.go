//go:build !linux

package main

// populate is of use on Linux only.
func populate(int) {}
