package rules

// Variants of the shelf that several examples start from.

// lowLead is the lead to the lower run of the shelf, without its fuse.
const lowLead = `  to     = run.low.start
  wire   = wire.feed
  length = "1 m"
`

// lowRun is the geometry of the lower run of the shelf.
const lowRun = `run "low" {
  strip  = strip.led
  length = "1 m"
`

// lowOf is the lower run with another length.
func lowOf(length string) string {
	return `run "low" {
  strip  = strip.led
  length = "` + length + `"
`
}

// unheld is the shelf without a ceiling, on a supply that carries all of it.
func unheld() string {
	return instead(shelf,
		"  board   = catalog.esp32_devkit\n  buffer  = \"5 V\"\n  ceiling = \"4 A\"\n", "  board  = catalog.esp32_devkit\n  buffer = \"5 V\"\n",
		`  rating = "10 A"`, `  rating = "20 A"`)
}
