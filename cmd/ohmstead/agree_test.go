package main

import (
	"context"
	"fmt"
	"io"
	"maps"
	"math/rand/v2"
	"net"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"unicode/utf16"

	"go.lsp.dev/jsonrpc2"
	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"

	"ohmstead/cmd/ohmstead/internal/workspace"
	"ohmstead/lint"
	"ohmstead/lint/rules"
	"ohmstead/lsp/ide"
	"ohmstead/lsp/server"
	"ohmstead/schema"
	"ohmstead/schema/source"
)

// TestEditorAgrees lays out random directory trees and demands that the command
// and the language server find the same plans in them, and the same in these.
func TestEditorAgrees(t *testing.T) {
	const trees = 200
	count := map[string]int{}
	for n := range trees {
		r := rand.New(rand.NewPCG(7, uint64(n)))
		outer, err := filepath.EvalSymlinks(t.TempDir())
		if err != nil {
			t.Fatal(err)
		}
		top := filepath.Join(outer, fmt.Sprint("tree", n), "top")
		g := &growing{r: r, top: top, count: count}
		g.grow(t)
		folder := top
		// A directory with plan files of its own stands for that plan alone when
		// it is named to the command.
		inner := filepath.Join(top, g.dirs[r.IntN(len(g.dirs))])
		if own, _ := filepath.Glob(filepath.Join(inner, "*.ohm.hcl")); len(own) == 0 {
			folder = inner
		}
		said := byCommand(t, folder, count)
		shown := byServer(t, folder)
		for _, f := range slices.Sorted(maps.Keys(said)) {
			if !shown[f] {
				t.Errorf("tree %d, %s: only the command says %s", n, folder, f)
			}
		}
		for _, f := range slices.Sorted(maps.Keys(shown)) {
			if !said[f] {
				t.Errorf("tree %d, %s: only the editor says %s", n, folder, f)
			}
		}
		count["findings"] += len(said)
		if t.Failed() {
			logTree(t, top)
			return
		}
	}
	if count["plans"] < trees || count["findings"] < 5*trees {
		t.Errorf("there is little in these trees: %v", count)
	}
	t.Logf("%d trees: %v", trees, count)
}

// growing makes a random tree.
type growing struct {
	r          *rand.Rand
	top        string
	dirs       []string
	repository bool
	count      map[string]int
}

func (g *growing) one(of ...string) string { return of[g.r.IntN(len(of))] }

func (g *growing) grow(t *testing.T) {
	must := func(err error) {
		if err != nil {
			t.Fatal(err)
		}
	}
	g.dirs = []string{"."}
	for range 3 + g.r.IntN(7) {
		in := g.dirs[g.r.IntN(len(g.dirs))]
		d := path.Join(in, g.one("a", "b", "c", "shop", "größe", ".hidden", "node_modules", "d.ohm.hcl"))
		if !slices.Contains(g.dirs, d) {
			g.dirs = append(g.dirs, d)
		}
	}
	for _, d := range g.dirs {
		must(os.MkdirAll(filepath.Join(g.top, d), 0o755))
		for _, name := range []string{"p.ohm.hcl", "q.ohm.hcl"}[:g.r.IntN(3)] {
			if d == "." {
				continue
			}
			must(os.WriteFile(filepath.Join(g.top, d, name), []byte(g.text(d)), 0o644))
		}
	}
	// Next to the tree, so outside of a repository's root.
	must(os.MkdirAll(filepath.Join(g.top, "..", "outside"), 0o755))
	must(os.WriteFile(filepath.Join(g.top, "..", "outside", "s.ohm.hcl"), []byte("wire \"outside\" {\n  odd = 1\n}\n"), 0o644))
	for range g.r.IntN(4) {
		at := filepath.Join(g.top, g.dirs[g.r.IntN(len(g.dirs))], g.one("link", "shop"))
		if d := g.dirs[g.r.IntN(len(g.dirs))]; d != "." {
			at = filepath.Join(g.top, d, g.one("link", "shop", "link.ohm.hcl", "r.ohm.hcl"))
		}
		to := g.one(".", "..", "a", "../a", "b", "../shop", "nowhere", "p.ohm.hcl", "../p.ohm.hcl", "link", "../../outside", "../../outside/s.ohm.hcl", g.top)
		if err := os.Symlink(filepath.FromSlash(to), at); err == nil {
			g.count["links"]++
		}
	}
	if g.r.IntN(2) == 0 {
		g.repository = true
		must(os.MkdirAll(filepath.Join(g.top, ".git"), 0o755))
	}
}

// text is a file of a directory. What is odd in it has the directory's name in
// its message, so that each plan that is found is seen.
func (g *growing) text(dir string) string {
	odd := fmt.Sprintf("odd_%x", dir)
	switch g.r.IntN(12) {
	case 0:
		return "# nothing yet\n"
	case 1:
		return "plan \"p\" {\n  stock = [\n"
	case 2:
		return fmt.Sprintf("wire \"w\" {\n  %s = 1\n}\nrun \"x\" {\n}\n", odd)
	case 3:
		return string([]byte{0xff, 0xfe}) + "\x00" + string(utf16.Decode([]uint16{'p'}))
	case 4, 5, 6:
		return fmt.Sprintf("strip \"s%d\" {\n  like = catalog.ws2815_12v_60\n  %s = 1\n}\n", g.r.IntN(3), odd)
	}
	var stock []string
	for range g.r.IntN(4) {
		stock = append(stock, fmt.Sprintf("%q", g.one("../shop", "../a", "..", "../..", "shop", "b", "../b/c", "link", "../../outside", "../../../outside", ".", "/abs", "../.hidden", "../../b", "../d.ohm.hcl")))
	}
	return fmt.Sprintf("plan \"p\" {\n  stock = [%s]\n  %s = 1\n}\nrun \"x\" {\n  strip = strip.s%d\n}\n", strings.Join(stock, ", "), odd, g.r.IntN(3))
}

func said(file string, line, column uint32, rule, message string) string {
	return fmt.Sprintf("%s:%d:%d: %s: %s", file, line, column, rule, message)
}

// byCommand judges a folder as check does.
func byCommand(t *testing.T, folder string, count map[string]int) map[string]bool {
	root, err := workspace.FindRoot([]string{folder})
	if err != nil {
		t.Fatal(err)
	}
	w, err := workspace.Open(root)
	if err != nil {
		t.Fatal(err)
	}
	out := map[string]bool{}
	dirs, _ := w.Find([]string{folder}) // a tree may have no plan, and links that lead nowhere
	for _, dir := range dirs {
		plan, fig, verdict, err := decodeAndJudge(t.Context(), w, dir)
		if fig == nil {
			t.Fatalf("%s: %v", dir, err)
		}
		count["plans"]++
		if err != nil {
			count["plans with an unreadable file"]++
		}
		files := map[string]*source.Text{}
		for _, f := range slices.Concat(plan.Files, plan.StockFiles) {
			files[f.Text.Path()] = f.Text
		}
		v := &ide.View{Plan: plan, Figures: fig, Findings: verdict.Findings, Rules: rules.All}
		for _, d := range ide.Diagnostics(v, lint.Hint) {
			if strings.HasPrefix(d.Path, schema.CataloguePath) {
				continue
			}
			p := files[d.Path].OffsetPosition(d.Start, source.UTF8)
			in, err := filepath.EvalSymlinks(filepath.Join(root, filepath.FromSlash(path.Dir(d.Path)))) // the editor knows a file by one name
			if err != nil {
				t.Fatal(err)
			}
			out[said(filepath.Join(in, path.Base(d.Path)), uint32(p.Line), uint32(p.Column), d.Code, lint.Headline(d.Message))] = true
		}
	}
	return out
}

// listener is a client that waits for the end of the search.
type listener struct {
	protocol.UnimplementedClient
	over chan struct{}
}

func (l *listener) WorkDoneProgressCreate(context.Context, *protocol.WorkDoneProgressCreateParams) error {
	return nil
}

func (l *listener) Progress(_ context.Context, p *protocol.ProgressParams) error {
	if strings.Contains(string(p.Value), `"end"`) {
		close(l.over)
	}
	return nil
}

// byServer asks a language server for all that it finds in a folder.
func byServer(t *testing.T, folder string) map[string]bool {
	ctx, cancel := context.WithCancel(t.Context())
	defer cancel()
	near, far := net.Pipe()
	ended := make(chan error, 1)
	go func() { ended <- server.Serve(ctx, far, server.Options{CacheDir: t.TempDir(), Log: io.Discard}) }()
	l := &listener{over: make(chan struct{})}
	conn := jsonrpc2.NewConn(jsonrpc2.NewStream(near), jsonrpc2.WithCodec(unions{}))
	conn.Go(ctx, protocol.ClientHandler(l, jsonrpc2.MethodNotFoundHandler))
	s := protocol.ServerDispatcher(conn)
	var params protocol.InitializeParams
	text := fmt.Sprintf(`{"processId": null, "rootUri": null, "workspaceFolders": [{"uri": %q, "name": "x"}],
		"capabilities": {"general": {"positionEncodings": ["utf-8"]}, "window": {"workDoneProgress": true}, "textDocument": {"diagnostic": {}}}}`, uri.File(folder))
	if err := protocol.Unmarshal([]byte(text), &params); err != nil {
		t.Fatal(err)
	}
	if _, err := s.Initialize(ctx, &params); err != nil {
		t.Fatal(err)
	}
	if err := s.Initialized(ctx, &protocol.InitializedParams{}); err != nil {
		t.Fatal(err)
	}
	<-l.over
	all, err := s.DiagnosticWorkspace(ctx, &protocol.WorkspaceDiagnosticParams{})
	if err != nil {
		t.Fatal(err)
	}
	out := map[string]bool{}
	for _, item := range all.Items {
		f := item.(*protocol.WorkspaceFullDocumentDiagnosticReport)
		for _, d := range f.Items {
			out[said(f.URI.FsPath(), d.Range.Start.Line, d.Range.Start.Character, fmt.Sprint(d.Code), fmt.Sprint(d.Message))] = true
		}
	}
	cancel()
	near.Close()
	<-ended
	return out
}

// unions lets the connection read and write the protocol's union types.
type unions struct{}

func (unions) Marshal(v any) ([]byte, error) {
	if raw, ok := v.(jsonrpc2.RawMessage); ok {
		return raw, nil
	}
	return protocol.Marshal(v)
}

func (unions) Unmarshal(data []byte, v any) error {
	if raw, ok := v.(*jsonrpc2.RawMessage); ok {
		*raw = slices.Clone(data)
		return nil
	}
	return protocol.Unmarshal(slices.Clone(data), v)
}

func logTree(t *testing.T, top string) {
	_ = filepath.WalkDir(top, func(p string, e os.DirEntry, err error) error { // only shown
		if to, err := os.Readlink(p); err == nil {
			t.Logf("%s -> %s", p, to)
		} else if !e.IsDir() {
			data, _ := os.ReadFile(p)
			t.Logf("%s\n%s", p, data)
		}
		return nil
	})
}
