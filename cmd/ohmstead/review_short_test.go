//go:build !long

package main

// One change in so many is reviewed; the gate reviews all.
const reviewOneIn = 5
