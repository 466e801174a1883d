// Package thorough says how much the tests try. `go test ./...` is for who has just changed something and waits; the gate
// runs the same tests with -tags long, and they try more.
package thorough

// Or is how often to try: so often in the gate, else the lesser number.
func Or(often, ordinary int) int {
	if On {
		return often
	}
	return ordinary
}
