//go:build !long

package thorough

// On reports whether the tests run with -tags long.
const On = false
