package source

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"
)

// corpus returns the sound texts under testdata, each also with "\r\n" for line ends and with a byte order mark.
func corpus(t testing.TB) map[string][]byte {
	t.Helper()
	names, err := filepath.Glob("testdata/*.hcl")
	if err != nil || len(names) == 0 {
		t.Fatalf("no corpus: %v", err)
	}
	texts := map[string][]byte{"empty": {}, "mark": byteOrderMark}
	for _, name := range names {
		data, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		name = filepath.Base(name)
		texts[name] = data
		texts[name+" with CRLF"] = bytes.ReplaceAll(data, []byte("\n"), []byte("\r\n"))
		texts[name+" with mark"] = append(bytes.Clone(byteOrderMark), data...)
	}
	return texts
}
