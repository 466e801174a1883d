// Package change says how one text of a test archive becomes another, by lines.
// Walking down the first text, a line that starts with a space goes on to the
// next line of that wording and keeps it, one with - goes on to it and leaves it
// out, and one with + is put in where the walk stands. White space within a line
// to be found does not count, and an empty line of a change means nothing.
//
//	 lead "low" {
//	-  fuse = "5 A"
//	+  fuse = "6 A"
package change

import (
	"fmt"
	"slices"
	"strings"
)

// Apply is the text that a change makes of base.
func Apply(base, change string) (string, error) {
	lines := strings.Split(base, "\n")
	var out []string
	stop := 0 // the first line of base that has not been walked over
	for i, c := range strings.Split(change, "\n") {
		if c == "" {
			continue
		}
		mark, text := c[0], c[1:]
		switch mark {
		case '+':
			out = append(out, text)
		case ' ', '-':
			at := next(lines, stop, text)
			if at < 0 {
				return "", fmt.Errorf("line %d: no further line %q", i+1, strings.TrimSpace(text))
			}
			out = append(out, lines[stop:at]...)
			if mark == ' ' {
				out = append(out, lines[at])
			}
			stop = at + 1
		default:
			return "", fmt.Errorf("line %d: a change's line starts with a space, - or +", i+1)
		}
	}
	return strings.Join(append(out, lines[stop:]...), "\n"), nil
}

// next finds the first line from stop on with the words of text, or is -1.
func next(lines []string, stop int, text string) int {
	words := strings.Fields(text)
	for i := stop; i < len(lines); i++ {
		if slices.Equal(strings.Fields(lines[i]), words) {
			return i
		}
	}
	return -1
}

// Between is a short change that makes to of from: the lines that differ, below
// the head of the block that they stand in.
func Between(from, to string) string {
	w := walk{lines: strings.Split(from, "\n")}
	for _, d := range differences(w.lines, strings.Split(to, "\n")) {
		if len(d.out) > 0 {
			w.seek(d.at)
		} else if d.at > w.stop {
			w.seek(d.at - 1)
			w.keep(d.at - 1)
		}
		w.write("-", d.out)
		w.write("+", d.in)
		w.stop = d.at + len(d.out)
	}
	return w.b.String()
}

// walk writes a change.
type walk struct {
	b     strings.Builder
	lines []string
	stop  int // the first line that has not been walked over
}

// seek keeps lines until the next that reads like lines[at] is that one: the
// head of its block for the reader, then as few more as it takes.
func (w *walk) seek(at int) {
	head := at - 1
	for head >= w.stop && strings.TrimLeft(w.lines[head], " \t})]") != w.lines[head] || head >= w.stop && w.lines[head] == "" {
		head--
	}
	if head >= w.stop && inBlock(w.lines[at]) && next(w.lines, w.stop, w.lines[head]) == head {
		w.keep(head)
	}
	for next(w.lines, w.stop, w.lines[at]) != at {
		w.keep(w.stop)
	}
}

// inBlock tells whether a line is one of those below a block's head.
func inBlock(line string) bool { return strings.TrimLeft(line, " \t}") != line }

func (w *walk) keep(at int) {
	if w.lines[at] == "" {
		w.b.WriteString("-\n+\n") // a space alone on a line would not last
	} else {
		w.write(" ", w.lines[at:at+1])
	}
	w.stop = at + 1
}

func (w *walk) write(mark string, lines []string) {
	for _, l := range lines {
		w.b.WriteString(mark + l + "\n")
	}
}

// difference is a place where the second text has other lines.
type difference struct {
	at      int // the first text's line where out stands, or that in stands before
	out, in []string
}

// differences are the lines beside a longest common sequence. Where there is a
// choice, an added block takes along the empty line above it, and one left out
// that below it.
func differences(a, b []string) []difference {
	common := make([][]int, len(a)+1) // of a[i:] and b[j:]
	for i := range common {
		common[i] = make([]int, len(b)+1)
	}
	for i, line := range slices.Backward(a) {
		for j := range slices.Backward(b) {
			if line == b[j] {
				common[i][j] = common[i+1][j+1] + 1
			} else {
				common[i][j] = max(common[i+1][j], common[i][j+1])
			}
		}
	}
	var out []difference
	for i, j := 0, 0; i < len(a) || j < len(b); {
		d := difference{at: i}
		for (i < len(a) || j < len(b)) && (i == len(a) || j == len(b) || a[i] != b[j]) {
			if j == len(b) || i < len(a) && common[i+1][j] >= common[i][j+1] {
				d.out = append(d.out, a[i])
				i++
			} else {
				d.in = append(d.in, b[j])
				j++
			}
		}
		end := 0
		if len(out) > 0 {
			end = out[len(out)-1].at + len(out[len(out)-1].out)
		}
		if n := len(d.in); len(d.out) == 0 && n > 0 && d.in[n-1] == "" && d.at > end && a[d.at-1] == "" {
			d.at--
			d.in = slices.Concat([]string{""}, d.in[:n-1])
		}
		if len(d.out) > 0 || len(d.in) > 0 {
			out = append(out, d)
		}
		i, j = i+1, j+1
	}
	return out
}
