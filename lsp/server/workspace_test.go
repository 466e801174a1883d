package server

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"
)

const porch = `-- porch/porch.ohm.hcl --
plan "porch" {
  title = "Porch"
  stock = ["../workshop"]
}
run "arch" {
  strip  = strip.arch
  length = "2 m"
}
-- workshop/parts.ohm.hcl --
strip "arch" {
  like = catalog.ws2815_12v_60
}
`

func TestStockChangesRefreshEveryPlan(t *testing.T) {
	e := start(t, porch, setup{})
	u := e.open("porch/porch.ohm.hcl")
	e.eventually("nothing unknown", func() bool { return e.shown[u] != nil && !slices.Contains(e.codes(u), "reference-unknown") })
	e.write("workshop/parts.ohm.hcl", "strip \"bow\" {\n  like = catalog.ws2815_12v_60\n}\n")
	e.must(e.DidChangeWatchedFiles(e.ctx(), &protocol.DidChangeWatchedFilesParams{Changes: []protocol.FileEvent{{URI: e.uri("workshop/parts.ohm.hcl"), Type: protocol.FileChangeTypeChanged}}}))
	e.eventually("strip.arch is unknown", func() bool { return slices.Contains(e.codes(u), "reference-unknown") })
	// An unsaved buffer goes before the disk.
	w := e.openText("workshop/parts.ohm.hcl", "strip \"arch\" {\n  like = catalog.ws2815_12v_60\n}\n")
	e.eventually("strip.arch is known again", func() bool { return !slices.Contains(e.codes(u), "reference-unknown") })
	e.must(e.DidClose(e.ctx(), &protocol.DidCloseTextDocumentParams{TextDocument: protocol.TextDocumentIdentifier{URI: w}}))
	e.eventually("strip.arch is unknown after closing", func() bool { return slices.Contains(e.codes(u), "reference-unknown") })
}

// unknown is a plan with an unknown reference, and known the same without.
const (
	unknown = "plan \"p\" {}\nrun \"a\" {\n  strip = strip.none\n}\n"
	known   = "plan \"p\" {}\n"
)

func TestOddPaths(t *testing.T) {
	for _, name := range []string{"with blank/a b.ohm.hcl", "100%/50%25.ohm.hcl", "größe/日本 😀.ohm.hcl", "a+b(1)/[x]#y?.ohm.hcl"} {
		t.Run(name, func(t *testing.T) {
			e := start(t, "", setup{})
			e.write(name, unknown)
			u := e.open(name)
			e.eventually("the finding", func() bool { return slices.Contains(e.codes(u), "reference-unknown") })
			e.replace(u, 2, known)
			e.eventually("no finding", func() bool { return e.shown[u] != nil && len(e.codes(u)) == 0 })
		})
	}
	t.Run("escaped in another way", func(t *testing.T) {
		e := start(t, "-- a+b/p.ohm.hcl --\n", setup{})
		raw := "file://" + e.path("a+b/p.ohm.hcl")
		e.must(e.conn.Notify(e.ctx(), "textDocument/didOpen", map[string]any{"textDocument": map[string]any{"uri": raw, "languageId": "ohmstead", "version": 1, "text": unknown}}))
		e.eventually("the finding", func() bool { return slices.Contains(e.codes(e.uri("a+b/p.ohm.hcl")), "reference-unknown") })
	})
}

func TestLinks(t *testing.T) {
	t.Run("the root is a link", func(t *testing.T) {
		outer := realPath(t.TempDir())
		e := start(t, "", setup{noInitialize: true})
		e.write("porch/p.ohm.hcl", unknown)
		e.write("porch/q.ohm.hcl", "strip \"none\" {\n  nonsense = 1\n}\n")
		link := filepath.Join(outer, "link")
		if err := os.Symlink(e.dir, link); err != nil {
			t.Skip("no symbolic links here:", err)
		}
		u := uri.File(link)
		p := &protocol.InitializeParams{RootURI: &u} //lint:ignore SA1019 old clients say only this
		_, err := e.Initialize(e.ctx(), p)
		e.must(err)
		e.must(e.Initialized(e.ctx(), &protocol.InitializedParams{}))
		q := uri.File(filepath.Join(link, "porch", "q.ohm.hcl"))
		e.eventually("a finding under the name that the client knows", func() bool { return len(e.codes(q)) > 0 })
		// Opened by its other name it is still the same file.
		e.openText("porch/q.ohm.hcl", "strip \"none\" {\n}\n")
		e.eventually("the finding goes", func() bool { return len(e.codes(q)) == 0 || !slices.Contains(e.codes(q), "attribute-unknown") })
	})
	t.Run("links that lead out", func(t *testing.T) {
		outside := realPath(t.TempDir())
		if err := os.WriteFile(filepath.Join(outside, "secret.ohm.hcl"), []byte(unknown), 0o644); err != nil {
			t.Fatal(err)
		}
		e := start(t, "", setup{noInitialize: true})
		e.write("plan/p.ohm.hcl", "plan \"p\" {\n  stock = [\"../shop\"]\n}\n")
		if err := os.Symlink(outside, e.path("shop")); err != nil {
			t.Skip("no symbolic links here:", err)
		}
		if err := os.Symlink(filepath.Join(outside, "secret.ohm.hcl"), e.path("plan/s.ohm.hcl")); err != nil {
			t.Fatal(err)
		}
		u := uri.File(e.dir)
		_, err := e.Initialize(e.ctx(), &protocol.InitializeParams{RootURI: &u}) //lint:ignore SA1019 old clients say only this
		e.must(err)
		e.must(e.Initialized(e.ctx(), &protocol.InitializedParams{}))
		e.eventually("stock that leads out is named", func() bool { return slices.Contains(e.codes(e.uri("plan/p.ohm.hcl")), "stock-unusable") })
		e.mu.Lock()
		defer e.mu.Unlock()
		for u := range e.shown {
			if strings.Contains(u.Path(), "secret") || strings.Contains(u.Path(), "s.ohm.hcl") {
				t.Errorf("%s was looked at", u)
			}
		}
	})
}

func TestSeveralRoots(t *testing.T) {
	e := start(t, `
-- one/a/p.ohm.hcl --
plan "p" {
  stock = ["../shop"]
}
run "a" { strip = strip.x }
-- one/shop/s.ohm.hcl --
strip "x" {
  like = catalog.ws2815_12v_60
}
-- two/b/p.ohm.hcl --
plan "p" {
  stock = ["../../one/shop"]
}
run "a" { strip = strip.x }
-- two/node_modules/x/p.ohm.hcl --
nonsense "x" {}
-- two/.git/p.ohm.hcl --
nonsense "x" {}
`, setup{folders: []string{"two", "two/b"}})
	a, b := e.uri("one/a/p.ohm.hcl"), e.uri("two/b/p.ohm.hcl")
	e.eventually("stock outside of the root is not to be had", func() bool { return slices.Contains(e.codes(b), "stock-unusable") })
	e.must(e.DidChangeWorkspaceFolders(e.ctx(), &protocol.DidChangeWorkspaceFoldersParams{Event: protocol.WorkspaceFoldersChangeEvent{
		Added: []protocol.WorkspaceFolder{{URI: e.uri("one"), Name: "one"}},
	}}))
	e.eventually("stock of another folder of the workspace is", func() bool {
		return e.shown[b] != nil && !slices.Contains(e.codes(b), "stock-unusable") && !slices.Contains(e.codes(b), "reference-unknown")
	})
	e.must(e.DidChangeWorkspaceFolders(e.ctx(), &protocol.DidChangeWorkspaceFoldersParams{Event: protocol.WorkspaceFoldersChangeEvent{
		Added:   []protocol.WorkspaceFolder{{URI: e.uri("."), Name: "all"}},
		Removed: []protocol.WorkspaceFolder{{URI: e.uri("one"), Name: "one"}},
	}}))
	e.eventually("within the larger root it is", func() bool {
		return e.shown[b] != nil && !slices.Contains(e.codes(b), "stock-unusable") && !slices.Contains(e.codes(b), "reference-unknown")
	})
	e.mu.Lock()
	defer e.mu.Unlock()
	if slices.Contains(e.codes(a), "reference-unknown") {
		t.Errorf("a: %v", e.codes(a))
	}
	for u := range e.shown {
		if strings.Contains(u.Path(), "node_modules") || strings.Contains(u.Path(), ".git") {
			t.Errorf("%s was looked at", u)
		}
	}
	if s := e.uri("one/shop/s.ohm.hcl"); slices.Contains(e.codes(s), "plan-missing") {
		t.Error("stock without a plan block is taken for a plan")
	}
}

func TestOutsideOfFolders(t *testing.T) {
	e := start(t, porch, setup{noFolder: true})
	u := e.open("porch/porch.ohm.hcl")
	e.eventually("stock next door is inside", func() bool {
		return e.shown[u] != nil && !slices.Contains(e.codes(u), "reference-unknown") && !slices.Contains(e.codes(u), "stock-unusable")
	})
	w := e.openText("workshop/parts.ohm.hcl", "strip \"bow\" {\n  nonsense = 1\n}\n")
	e.eventually("the open stock counts", func() bool {
		return slices.Contains(e.codes(u), "reference-unknown") && slices.Contains(e.codes(w), "attribute-unknown")
	})
	for _, x := range []uri.URI{u, w} {
		e.must(e.DidClose(e.ctx(), &protocol.DidCloseTextDocumentParams{TextDocument: protocol.TextDocumentIdentifier{URI: x}}))
	}
	e.eventually("nothing is shown of closed files", func() bool { return len(e.codes(u)) == 0 && len(e.codes(w)) == 0 })
}

func TestUnsavedDocuments(t *testing.T) {
	e := start(t, "", setup{})
	for _, u := range []uri.URI{"untitled:Untitled-1", e.uri("new/never-saved.ohm.hcl"), e.uri("odd.txt")} {
		e.openURI(u, unknown)
		e.eventually("the finding in "+string(u), func() bool { return slices.Contains(e.codes(u), "reference-unknown") })
		e.must(e.DidClose(e.ctx(), &protocol.DidCloseTextDocumentParams{TextDocument: protocol.TextDocumentIdentifier{URI: u}}))
		e.eventually("nothing is left of "+string(u), func() bool { return len(e.codes(u)) == 0 })
	}
}

func TestFilesComeAndGo(t *testing.T) {
	e := start(t, "-- a/p.ohm.hcl --\n"+known, setup{})
	e.eventually("progress of the scan", func() bool {
		all := strings.Join(e.progress, " ")
		return strings.Contains(all, `"begin"`) && strings.Contains(all, `"end"`)
	})
	e.eventually("files are watched", func() bool { return len(e.watches) == 2 })
	p := e.open("a/p.ohm.hcl")
	changed := func(name string, kind protocol.FileChangeType) {
		e.must(e.DidChangeWatchedFiles(e.ctx(), &protocol.DidChangeWatchedFilesParams{Changes: []protocol.FileEvent{{URI: e.uri(name), Type: kind}}}))
	}
	e.write("a/q.ohm.hcl", "run \"a\" {\n  strip = strip.none\n}\n")
	changed("a/q.ohm.hcl", protocol.FileChangeTypeCreated)
	q := e.uri("a/q.ohm.hcl")
	e.eventually("a new file is part of the plan", func() bool { return slices.Contains(e.codes(q), "reference-unknown") })
	e.must(os.Remove(e.path("a/q.ohm.hcl")))
	changed("a/q.ohm.hcl", protocol.FileChangeTypeDeleted)
	e.eventually("its findings go with it", func() bool { return len(e.codes(q)) == 0 })

	e.write("b/p.ohm.hcl", unknown)
	changed("b/p.ohm.hcl", protocol.FileChangeTypeCreated)
	b := e.uri("b/p.ohm.hcl")
	e.eventually("a new plan", func() bool { return slices.Contains(e.codes(b), "reference-unknown") })
	e.must(os.Rename(e.path("b"), e.path("c")))
	e.must(e.DidRenameFiles(e.ctx(), &protocol.RenameFilesParams{Files: []protocol.FileRename{{OldURI: string(e.uri("b")), NewURI: string(e.uri("c"))}}}))
	c := e.uri("c/p.ohm.hcl")
	e.eventually("a renamed directory", func() bool { return len(e.codes(b)) == 0 && slices.Contains(e.codes(c), "reference-unknown") })
	e.must(os.RemoveAll(e.path("c")))
	e.must(e.DidDeleteFiles(e.ctx(), &protocol.DeleteFilesParams{Files: []protocol.FileDelete{{URI: string(e.uri("c"))}}}))
	e.eventually("a deleted directory", func() bool { return len(e.codes(c)) == 0 })

	// Without a word from the client, saving looks around.
	e.write("a/r.ohm.hcl", "run \"a\" {\n  strip = strip.none\n}\n")
	e.must(e.DidSave(e.ctx(), &protocol.DidSaveTextDocumentParams{TextDocument: protocol.TextDocumentIdentifier{URI: p}}))
	e.eventually("a file found on saving", func() bool { return slices.Contains(e.codes(e.uri("a/r.ohm.hcl")), "reference-unknown") })
}

// Of a directory that is moved or removed by somebody else, an editor tells
// nothing but the directory.
func TestDirectoriesMovedOutside(t *testing.T) {
	e := start(t, "-- plans/a/p.ohm.hcl --\n"+unknown+"-- shop/s.ohm.hcl --\nwire \"w\" {\n  odd = 1\n}\n", setup{})
	a, b := e.uri("plans/a/p.ohm.hcl"), e.uri("moved/deep/a/p.ohm.hcl")
	e.eventually("the finding", func() bool { return slices.Contains(e.codes(a), "reference-unknown") })
	told := func(kind protocol.FileChangeType, names ...string) {
		t.Helper()
		p := &protocol.DidChangeWatchedFilesParams{}
		for _, n := range names {
			p.Changes = append(p.Changes, protocol.FileEvent{URI: e.uri(n), Type: kind})
		}
		e.must(e.DidChangeWatchedFiles(e.ctx(), p))
	}
	e.must(os.MkdirAll(e.path("moved"), 0o755))
	e.must(os.Rename(e.path("plans"), e.path("moved/deep")))
	told(protocol.FileChangeTypeDeleted, "plans")
	e.eventually("it goes", func() bool { return len(e.codes(a)) == 0 })
	told(protocol.FileChangeTypeCreated, "moved", "moved/deep", "moved/note.txt", ".git/x", "node_modules")
	e.eventually("it comes", func() bool { return slices.Contains(e.codes(b), "reference-unknown") })
	e.must(os.RemoveAll(e.path("moved")))
	told(protocol.FileChangeTypeDeleted, "moved")
	e.eventually("it goes again", func() bool { return len(e.codes(b)) == 0 })
}

// The root is the repository, so stock may lie outside of the folder that is
// open, and the plans that use what is open too.
func TestFolderOfRepository(t *testing.T) {
	e := start(t, porch+"-- .git/HEAD --\n", setup{folders: []string{"porch"}})
	u := e.open("porch/porch.ohm.hcl")
	e.eventually("stock beside the folder is found", func() bool {
		return e.shown[u] != nil && !slices.Contains(e.codes(u), "stock-unusable") && !slices.Contains(e.codes(u), "reference-unknown")
	})
	e = start(t, porch+"-- .git/HEAD --\n", setup{folders: []string{"workshop"}})
	p := e.uri("porch/porch.ohm.hcl")
	w := e.openText("workshop/parts.ohm.hcl", "strip \"bow\" {\n  like = catalog.ws2815_12v_60\n}\n")
	e.eventually("the plan that uses the folder's parts is judged", func() bool {
		return slices.Contains(e.codes(p), "reference-unknown") && !slices.Contains(e.codes(w), "plan-missing")
	})
}
