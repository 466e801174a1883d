package server

import (
	"bytes"
	"strings"
	"testing"

	"go.lsp.dev/protocol"
)

// typist edits a document in the ways that a plan is edited, and knows where
// everything is afterwards.
type typist struct {
	lines []string
	gap   int    // a blank line in the middle, below which blocks are typed
	typed string // what stands there now
	made  map[string]int
}

func newTypist(text string) *typist {
	t := &typist{lines: strings.Split(text, "\n"), made: map[string]int{}}
	for t.gap = len(t.lines) / 2; t.lines[t.gap] != ""; t.gap++ {
	}
	return t
}

// edit is one change, and where one may look at what was changed.
type edit struct {
	at   protocol.Range
	text string
	name protocol.Position // in the name of the block
}

// kinds are the ways to edit a plan of walls, in the order in which they take turns.
var kinds = []string{"lead", "run", "strip", "ceiling", "ambient", "half a block", "tie"}

// do makes the next edit of a kind.
func (t *typist) do(b testing.TB, kind string) edit {
	n := t.made[kind]
	t.made[kind]++
	switch kind {
	case "lead":
		return t.digit(b, n, `lead "`, `  length = "`)
	case "ringed lead":
		return t.digit(b, n, [...]string{`lead "w1-2-9-end"`, `lead "w1-3-1-start"`, `lead "w1-tie-2"`, `lead "w1-tie-data"`}[n%4], "  length")
	case "run":
		return t.digit(b, n, `run "`, `  through   = `)
	case "length": // of a run of the islands
		return t.digit(b, n, `run "`, `  length    = `)
	case "strip":
		return t.digit(b, n, `strip "`, `  channel_current`)
	case "ceiling":
		return t.digit(b, n, `controller "`, `  ceiling`)
	case "ambient":
		return t.digit(b, n, `plan "`, `  ambient`)
	case "half a block":
		return t.write([...]string{
			"lead \"half\" {\n",
			"lead \"half\" {\n  from = supply.w1-\n",
			"lead \"half\" {\n  from = supply.w1-1.out\n  length = \"\n",
			"",
		}[n%4])
	case "tie":
		return t.write([...]string{
			"lead \"more\" {\n  from    = run.w1-3-9.end\n  to      = run.w1-4-1.start\n  wire    = wire.tie\n  length  = \"20 cm\"\n  carries = \"minus\"\n}\n",
			"",
		}[n%2])
	}
	b.Fatalf("nobody edits by %q", kind)
	return edit{}
}

// digit changes the last digit of a line that starts so, in one of the blocks
// that start so: in another block each time.
func (t *typist) digit(b testing.TB, n int, block, line string) edit {
	var places [][2]int
	head := -1
	for i, l := range t.lines {
		if strings.HasSuffix(l, "{") && !strings.HasPrefix(l, " ") {
			head = i
		}
		if head >= 0 && strings.HasPrefix(t.lines[head], block) && strings.HasPrefix(l, line) {
			places = append(places, [2]int{head, i})
		}
	}
	if len(places) == 0 {
		b.Fatalf("no %s has a line %q", block, line)
	}
	at := places[n*7%len(places)]
	l := []byte(t.lines[at[1]])
	c := bytes.LastIndexAny(l[:bytes.LastIndexByte(l, ' ')], "0123456789")
	if strings.HasPrefix(line, "  through") {
		c = bytes.LastIndex(l, []byte(` cm", `)) - 1
	}
	l[c] = '0' + (l[c]-'0'+1)%10
	t.lines[at[1]] = string(l)
	from := t.position(at[1], c)
	to := from
	to.Character++
	return edit{protocol.Range{Start: from, End: to}, string(l[c]), t.position(at[0], strings.IndexByte(t.lines[at[0]], '"')+1)}
}

// position is where a line of the first text stands now.
func (t *typist) position(line, char int) protocol.Position {
	if line > t.gap {
		line += strings.Count(t.typed, "\n")
	}
	return protocol.Position{Line: uint32(line), Character: uint32(char)}
}

// write makes the block in the gap so.
func (t *typist) write(text string) edit {
	from := protocol.Position{Line: uint32(t.gap)}
	to := protocol.Position{Line: uint32(t.gap + strings.Count(t.typed, "\n"))}
	t.typed = text
	for i, l := range t.lines { // a lead is looked at meanwhile
		if strings.HasPrefix(l, `lead "`) {
			return edit{protocol.Range{Start: from, End: to}, text, t.position(i, len(`lead "`))}
		}
	}
	return edit{}
}

// value is where the first value of a block's first line that starts so begins.
func (t *typist) value(b testing.TB, block, line string) protocol.Position {
	head := false
	for i, l := range t.lines {
		head = head && l != "}" || strings.HasPrefix(l, block)
		if head && strings.HasPrefix(l, line) {
			return t.position(i, strings.Index(l, "= ")+2)
		}
	}
	b.Fatalf("no %s has a line %q", block, line)
	return protocol.Position{}
}

// text is the document as it stands.
func (t *typist) text() string {
	before, after := t.lines[:t.gap], t.lines[t.gap:]
	return strings.Join(before, "\n") + "\n" + t.typed + strings.Join(after, "\n")
}
