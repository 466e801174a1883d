package layout

import (
	"bytes"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"golang.org/x/tools/txtar"
)

func TestFormat(t *testing.T) {
	for _, c := range []struct{ name, in, want string }{
		{"nothing", "", ""},
		{"blanks", "plan   \"a\"   {\ntitle=\"x\"   \n    rate   =\"40 Hz\"\n}\n", "plan \"a\" {\n  title = \"x\"\n  rate  = \"40 Hz\"\n}\n"},
		{"no line end at the end", "plan \"a\" {}", "plan \"a\" {}\n"},
		{"a mark and Windows line ends", "\ufeffplan \"a\" {\r\ntitle=\"x\"\r\n}\r\n", "\ufeffplan \"a\" {\r\n  title = \"x\"\r\n}\r\n"},
		{"mostly Windows line ends", "a {\r\n}\r\nb {\n}\r\n", "a {\r\n}\r\nb {\r\n}\r\n"},
		{"few Windows line ends", "a {\n}\nb {\n}\r\n", "a {\n}\nb {\n}\n"},
		{"comments", "#  as  it  is\nplan \"a\" {\n      // in\n  title = \"x\"     # behind\n  /* a\n   block */\n}\n",
			"#  as  it  is\nplan \"a\" {\n  // in\n  title = \"x\" # behind\n  /* a\n   block */\n}\n"},
		{"a heredoc", "plan \"a\" {\nnote=<<EOT\n  as   it\n     is\t\nEOT\n}\n", "plan \"a\" {\n  note = <<EOT\n  as   it\n     is\t\nEOT\n}\n"},
		{"a list over lines", "order \"a\" {\nruns=[\nrun.a,\n  run.b,\n]\n}\n", "order \"a\" {\n  runs = [\n    run.a,\n    run.b,\n  ]\n}\n"},
	} {
		t.Run(c.name, func(t *testing.T) {
			got, err := Format([]byte(c.in))
			if err != nil || string(got) != c.want {
				t.Errorf("%q, %v\nwant %q", got, err, c.want)
			}
			again, err := Format(got)
			if err != nil || !bytes.Equal(again, got) {
				t.Errorf("a second time: %q, %v", again, err)
			}
		})
	}
}

func TestFormatRefusesBrokenText(t *testing.T) {
	for _, c := range []struct {
		name, in string
		offset   int
		want     string
	}{
		{"an open quote", "plan \"a\" {\n  title = \"x\n}\n", 22, "Invalid multi-line string"},
		{"a second mistake does not hide the first", "plan \"a\" {\n  title =\n}\nrun \"b\" {\n  length =\n}\n", 19, "Invalid expression"},
		{"brackets without end", "x = " + strings.Repeat("[", 100000), 204, "too deep"},
		{"another encoding", "\xff\xfea\x00", 0, "not UTF-8"},
	} {
		t.Run(c.name, func(t *testing.T) {
			out, err := Format([]byte(c.in))
			var b *Broken
			if !errors.As(err, &b) || out != nil {
				t.Fatalf("%q, %v", out, err)
			}
			if b.Offset != c.offset || !strings.Contains(b.Message, c.want) {
				t.Errorf("at %d: %s, want at %d: %s", b.Offset, b.Message, c.offset, c.want)
			}
		})
	}
}

// Every plan of the test data comes out with the same words, and stays as it is
// the second time.
func TestCorpus(t *testing.T) {
	n := 0
	corpus(t, func(name string, text []byte) {
		got, err := Format(text)
		var b *Broken
		if errors.As(err, &b) {
			return // there on purpose
		}
		if err != nil {
			t.Errorf("%s: %v", name, err)
			return
		}
		n++
		if again, err := Format(got); err != nil || !bytes.Equal(got, again) {
			t.Errorf("%s: a second time it changes again, %v", name, err)
		}
		squeeze := func(b []byte) string { return strings.Join(strings.Fields(string(b)), "") }
		if squeeze(got) != squeeze(text) {
			t.Errorf("%s: more than blanks changed", name)
		}
		if bytes.Contains(text, []byte("\r")) {
			return
		}
		if windows, err := Format(bytes.ReplaceAll(text, []byte("\n"), []byte("\r\n"))); err != nil || !bytes.Equal(windows, bytes.ReplaceAll(got, []byte("\n"), []byte("\r\n"))) {
			t.Errorf("%s: with Windows line ends it comes out otherwise, %v", name, err)
		}
	})
	if n < 20 {
		t.Errorf("%d texts in the test data, want at least 20", n)
	}
}

// corpus visits every plan file, and every one in a txtar archive.
func corpus(t *testing.T, visit func(name string, text []byte)) {
	t.Helper()
	for _, root := range []string{"../../testdata", "../../schema", "../../editors/grammar/testdata"} {
		err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
			if err != nil || d.IsDir() {
				return err
			}
			data, err := os.ReadFile(path)
			if err != nil {
				return err
			}
			switch filepath.Ext(path) {
			case ".hcl":
				visit(path, data)
			case ".txtar":
				for _, f := range txtar.Parse(data).Files {
					if strings.HasSuffix(f.Name, ".hcl") {
						visit(path+" "+f.Name, f.Data)
					}
				}
			}
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
	}
}

func FuzzFormat(f *testing.F) {
	f.Add("plan \"a\" {\ntitle=\"x\" # c\n}\n")
	f.Add("a {\r\n  b = <<E\r\n x\r\nE\r\n}\r\n")
	f.Add("a { b = [1,\n2] /* c */ }")
	f.Fuzz(func(t *testing.T, text string) {
		if len(text) > 4<<10 {
			return
		}
		got, err := Format([]byte(text))
		if err != nil {
			return
		}
		again, err := Format(got)
		if err != nil || !bytes.Equal(got, again) {
			t.Errorf("%q becomes %q, then %q, %v", text, got, again, err)
		}
	})
}
