//go:build long

package main

const reviewOneIn = 1
