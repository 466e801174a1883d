package server

import (
	"bytes"
	"encoding/json"
	"flag"
	"os"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"go.lsp.dev/protocol"
)

var update = flag.Bool("update", false, "rewrite golden files")

// golden compares with a file, or writes it.
func golden(t *testing.T, path, got string) {
	t.Helper()
	if *update {
		if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(strings.ReplaceAll(string(want), "\r\n", "\n"), got); diff != "" {
		t.Errorf("%s (-want +got), rewrite with -update:\n%s", path, diff)
	}
}

func TestInitializeResponse(t *testing.T) {
	for _, c := range []struct{ name, capabilities string }{
		{"capable", capable},
		{"bare", "{}"},
		{"pulling", strings.Replace(capable, `"hover":`, `"diagnostic": {}, "hover":`, 1)},
	} {
		t.Run(c.name, func(t *testing.T) {
			e := start(t, "", setup{capabilities: c.capabilities, opts: Options{Version: "1.2.3"}})
			data, err := protocol.Marshal(e.init)
			e.must(err)
			var pretty bytes.Buffer
			e.must(json.Indent(&pretty, data, "", "  "))
			golden(t, "../../testdata/lsp/initialize-"+c.name+".json", pretty.String()+"\n")
		})
	}
}

func TestSettingsDocument(t *testing.T) {
	const path = "../SETTINGS.md"
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	text := strings.ReplaceAll(string(data), "\r\n", "\n")
	head, rest, ok := strings.Cut(text, "-->\n\n")
	if !ok {
		t.Fatal("the comment above the table is gone")
	}
	i := strings.Index(rest, "```")
	golden(t, path, head+"-->\n\n"+SettingsMarkdown()+"\n"+rest[i:])
}
