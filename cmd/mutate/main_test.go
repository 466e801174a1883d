package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

const sample = `package sample

func Clamp(x, top int) int {
	if x > top {
		x = top
	}
	return x
}

var limit = 40.0

func Forms(list []float64, ok bool, at map[string]bool) (n int, good bool) {
	for i := 0; i < len(list); i++ {
		if list[i] == 0 || !at["x"] && ok {
			continue
		}
		n += int(list[i]*2 + 1/limit)
	}
	return n, true
}
`

const sampleTest = `package sample

import "testing"

func TestClamp(t *testing.T) {
	if Clamp(5, 3) != 3 || Clamp(2, 3) != 2 {
		t.Fail()
	}
}
`

const sampleFates = `21 of 21 changes
survived	sample.go:4:5	> with or without equal
survived	sample.go:10:13	another number
unreached	sample.go:13:11	another number
unreached	sample.go:13:14	the opposite of <
unreached	sample.go:13:14	< with or without equal
unreached	sample.go:14:6	&& for ||
unreached	sample.go:14:6	the opposite of ==
unreached	sample.go:14:17	another number
unreached	sample.go:14:22	|| for &&
unreached	sample.go:15:4	leave out the statement
unreached	sample.go:17:3	leave out the statement
unreached	sample.go:17:12	another operator than +
unreached	sample.go:17:12	another operator than *
unreached	sample.go:17:20	another number
unreached	sample.go:17:24	another operator than /
unreached	sample.go:17:24	another number
unreached	sample.go:19:9	return nothing
unreached	sample.go:19:12	return the opposite
sample: 3 killed, 2 survived, 16 reached by no test
all: 3 killed, 2 survived, 16 reached by no test
`

func TestRun(t *testing.T) {
	t.Chdir(t.TempDir())
	for name, text := range map[string]string{"go.mod": "module sample\n\ngo 1.26.0\n", "sample.go": sample, "sample_test.go": sampleTest} {
		if err := os.WriteFile(filepath.FromSlash(name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	var out strings.Builder
	if err := run(&out, []string{"."}, nil, 0, 1); err != nil {
		t.Fatal(err)
	}
	if out.String() != sampleFates {
		t.Errorf("%s\nwant\n%s", out.String(), sampleFates)
	}
}
