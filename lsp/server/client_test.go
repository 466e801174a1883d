package server

import (
	"context"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/rogpeppe/go-internal/txtar"
	"go.lsp.dev/jsonrpc2"
	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"
)

// editor is a client for tests: it keeps what the server pushes.
type editor struct {
	protocol.UnimplementedClient
	t    testing.TB
	conn jsonrpc2.Conn
	protocol.Server

	mu       sync.Mutex
	news     *sync.Cond
	shown    map[uri.URI]*protocol.PublishDiagnosticsParams
	all      []*protocol.PublishDiagnosticsParams
	logs     []string
	messages []string
	progress []string
	watches  []protocol.Registration
	settings string // what workspace/configuration answers
	shows    []protocol.ShowDocumentParams
	applied  []protocol.ApplyWorkspaceEditParams
	refresh  int

	init   *protocol.InitializeResult
	dir    string
	done   chan error // of serveStream
	hangUp func()
	talk   *conversation // that is listened to
}

func (e *editor) PublishDiagnostics(_ context.Context, p *protocol.PublishDiagnosticsParams) error {
	e.mu.Lock()
	defer e.mu.Unlock()
	e.shown[p.URI] = p
	e.all = append(e.all, p)
	e.news.Broadcast()
	return nil
}

func (e *editor) LogMessage(_ context.Context, p *protocol.LogMessageParams) error {
	e.mu.Lock()
	defer e.mu.Unlock()
	e.logs = append(e.logs, p.Message)
	e.news.Broadcast()
	return nil
}

func (e *editor) ShowMessage(_ context.Context, p *protocol.ShowMessageParams) error {
	e.mu.Lock()
	defer e.mu.Unlock()
	e.messages = append(e.messages, p.Message)
	e.news.Broadcast()
	return nil
}

func (e *editor) WorkDoneProgressCreate(context.Context, *protocol.WorkDoneProgressCreateParams) error {
	return nil
}

func (e *editor) Progress(_ context.Context, p *protocol.ProgressParams) error {
	e.mu.Lock()
	defer e.mu.Unlock()
	e.progress = append(e.progress, string(p.Value))
	e.news.Broadcast()
	return nil
}

func (e *editor) RegisterCapability(_ context.Context, p *protocol.RegistrationParams) error {
	e.mu.Lock()
	defer e.mu.Unlock()
	e.watches = append(e.watches, p.Registrations...)
	e.news.Broadcast()
	return nil
}

func (e *editor) Configuration(_ context.Context, p *protocol.ConfigurationParams) ([]protocol.LSPAny, error) {
	e.mu.Lock()
	defer e.mu.Unlock()
	answer := e.settings
	if answer == "" {
		answer = "null"
	}
	return []protocol.LSPAny{protocol.LSPAny(answer)}, nil
}

func (e *editor) ShowDocument(_ context.Context, p *protocol.ShowDocumentParams) (*protocol.ShowDocumentResult, error) {
	e.mu.Lock()
	defer e.mu.Unlock()
	e.shows = append(e.shows, *p)
	e.news.Broadcast()
	return &protocol.ShowDocumentResult{Success: true}, nil
}

func (e *editor) ApplyEdit(_ context.Context, p *protocol.ApplyWorkspaceEditParams) (*protocol.ApplyWorkspaceEditResult, error) {
	e.mu.Lock()
	defer e.mu.Unlock()
	e.applied = append(e.applied, *p)
	return &protocol.ApplyWorkspaceEditResult{Applied: true}, nil
}

func (e *editor) refreshed() error {
	e.mu.Lock()
	defer e.mu.Unlock()
	e.refresh++
	e.news.Broadcast()
	return nil
}

func (e *editor) InlayHintRefresh(context.Context) error  { return e.refreshed() }
func (e *editor) CodeLensRefresh(context.Context) error   { return e.refreshed() }
func (e *editor) DiagnosticRefresh(context.Context) error { return e.refreshed() }

// setup is how a test's editor differs from one that can everything.
type setup struct {
	capabilities string // JSON
	options      string // initializationOptions, JSON
	settings     string // what workspace/configuration answers
	folders      []string
	noFolder     bool
	noInitialize bool
	nonsense     bool // the client breaks the protocol itself, so that nobody can tell what is right
	opts         Options
}

// capable is a client that supports all that the server knows of.
const capable = `{
	"general": {"positionEncodings": ["utf-16"]},
	"window": {"workDoneProgress": true, "showDocument": {"support": true}},
	"workspace": {
		"applyEdit": true, "configuration": true, "workspaceFolders": true,
		"workspaceEdit": {"documentChanges": true},
		"didChangeConfiguration": {"dynamicRegistration": true},
		"didChangeWatchedFiles": {"dynamicRegistration": true},
		"inlayHint": {"refreshSupport": true}, "codeLens": {"refreshSupport": true},
		"diagnostics": {"refreshSupport": true},
		"symbol": {"symbolKind": {"valueSet": [1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16, 17, 18, 19, 20, 21, 22, 23, 24, 25, 26]}},
		"textDocumentContent": {}
	},
	"textDocument": {
		"publishDiagnostics": {"relatedInformation": true, "versionSupport": true, "codeDescriptionSupport": true, "tagSupport": {"valueSet": [1, 2]}, "dataSupport": true},
		"completion": {"completionItem": {"snippetSupport": true, "labelDetailsSupport": true, "insertReplaceSupport": true, "documentationFormat": ["markdown", "plaintext"], "resolveSupport": {"properties": ["documentation", "detail"]}}},
		"hover": {"contentFormat": ["markdown", "plaintext"]},
		"signatureHelp": {"signatureInformation": {"documentationFormat": ["markdown"], "parameterInformation": {"labelOffsetSupport": true}}},
		"codeAction": {"codeActionLiteralSupport": {"codeActionKind": {"valueSet": ["quickfix", "refactor", "source"]}}, "dataSupport": true, "isPreferredSupport": true, "resolveSupport": {"properties": ["edit"]}},
		"definition": {"linkSupport": true}, "documentLink": {"tooltipSupport": true}, "rangeFormatting": {"rangesSupport": true},
		"documentSymbol": {"hierarchicalDocumentSymbolSupport": true, "symbolKind": {"valueSet": [1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16, 17, 18, 19, 20, 21, 22, 23, 24, 25, 26]}},
		"rename": {"prepareSupport": true}, "linkedEditingRange": {},
		"foldingRange": {"lineFoldingOnly": false},
		"semanticTokens": {"requests": {"full": {"delta": true}, "range": true}, "tokenTypes": [], "tokenModifiers": [], "formats": ["relative"]}
	}
}`

// start runs a server over an in-memory pair of streams, with the files of a
// txtar archive on disk.
func start(t testing.TB, archive string, with setup) *editor {
	t.Helper()
	e := &editor{t: t, shown: map[uri.URI]*protocol.PublishDiagnosticsParams{}, settings: with.settings, done: make(chan error, 1)}
	e.news = sync.NewCond(&e.mu)
	e.dir = filepath.Join(realPath(t.TempDir()), "w") // messages count paths from the root, which is above
	e.must(os.Mkdir(e.dir, 0o755))
	for _, f := range txtar.Parse([]byte(archive)).Files {
		e.write(f.Name, string(f.Data))
	}
	near, far := jsonrpc2.NewChannelStreamPair(64)
	if t, test := t.(*testing.T); test && !with.nonsense { // a benchmark measures the server alone
		near, e.talk = overhear(t, near)
	}
	if with.opts.CacheDir == "" {
		with.opts.CacheDir = filepath.Join(e.dir, "..", filepath.Base(e.dir)+"-cache")
	}
	e.hangUp = func() { near.Close() }
	ctx, cancel := context.WithCancel(context.Background())
	go func() { e.done <- serveStream(ctx, far, with.opts) }()
	// Inline, so that what arrives is kept in the order of the wire.
	e.conn = jsonrpc2.NewConn(tap{near}, jsonrpc2.WithCodec(codec{}))
	e.conn.Go(ctx, protocol.ClientHandler(e, jsonrpc2.MethodNotFoundHandler))
	e.Server = protocol.ServerDispatcher(e.conn)
	t.Cleanup(func() {
		cancel()
		near.Close()
		select {
		case <-e.done:
		case <-time.After(longest):
			t.Error("the server did not end")
		}
	})
	if with.noInitialize {
		return e
	}
	if with.capabilities == "" {
		with.capabilities = capable
	}
	var p protocol.InitializeParams
	folders := with.folders
	if folders == nil && !with.noFolder {
		folders = []string{"."}
	}
	var parts []string
	for _, f := range folders {
		parts = append(parts, fmt.Sprintf(`{"uri": %q, "name": "x"}`, e.uri(f)))
	}
	text := fmt.Sprintf(`{"processId": null, "rootUri": null, "capabilities": %s, "workspaceFolders": [%s]`, with.capabilities, strings.Join(parts, ","))
	if with.options != "" {
		text += `, "initializationOptions": ` + with.options
	}
	if err := protocol.Unmarshal([]byte(text+"}"), &p); err != nil {
		t.Fatal(err)
	}
	var err error
	if e.init, err = e.Initialize(e.ctx(), &p); err != nil {
		t.Fatal(err)
	}
	if err := e.Initialized(e.ctx(), &protocol.InitializedParams{}); err != nil {
		t.Fatal(err)
	}
	return e
}

// longest is how long to wait for what must come: long, as a loaded machine is
// no failure.
const longest = 3 * time.Minute

func (e *editor) ctx() context.Context {
	ctx, cancel := context.WithTimeout(context.Background(), longest)
	e.t.Cleanup(cancel)
	return ctx
}

func (e *editor) path(name string) string { return filepath.Join(e.dir, filepath.FromSlash(name)) }
func (e *editor) uri(name string) uri.URI { return uri.File(e.path(name)) }

func (e *editor) write(name, text string) {
	e.t.Helper()
	if err := os.MkdirAll(filepath.Dir(e.path(name)), 0o755); err != nil {
		e.t.Fatal(err)
	}
	if err := os.WriteFile(e.path(name), []byte(text), 0o644); err != nil {
		e.t.Fatal(err)
	}
}

func (e *editor) read(name string) string {
	e.t.Helper()
	data, err := os.ReadFile(e.path(name))
	if err != nil {
		e.t.Fatal(err)
	}
	return string(data)
}

func (e *editor) must(err error) {
	e.t.Helper()
	if err != nil {
		e.t.Fatal(err)
	}
}

// open opens a document with its text on disk.
func (e *editor) open(name string) uri.URI {
	e.t.Helper()
	return e.openText(name, e.read(name))
}

func (e *editor) openText(name, text string) uri.URI {
	e.t.Helper()
	u := e.uri(name)
	e.openURI(u, text)
	return u
}

func (e *editor) openURI(u uri.URI, text string) {
	e.t.Helper()
	e.must(e.DidOpen(e.ctx(), &protocol.DidOpenTextDocumentParams{TextDocument: protocol.TextDocumentItem{URI: u, LanguageID: "ohmstead", Version: 1, Text: text}}))
}

// replace replaces the whole text of a document.
func (e *editor) replace(u uri.URI, version int32, text string) {
	e.t.Helper()
	p := &protocol.DidChangeTextDocumentParams{ContentChanges: []protocol.TextDocumentContentChangeEvent{&protocol.TextDocumentContentChangeWholeDocument{Text: text}}}
	p.TextDocument.URI, p.TextDocument.Version = u, version
	e.must(e.DidChange(e.ctx(), p))
}

// eventually waits until what the server pushed is as wanted.
func (e *editor) eventually(what string, ok func() bool) {
	e.t.Helper()
	deadline := time.Now().Add(longest)
	late := time.AfterFunc(longest+100*time.Millisecond, e.news.Broadcast)
	defer late.Stop()
	e.mu.Lock()
	defer e.mu.Unlock()
	for !ok() {
		if time.Now().After(deadline) {
			e.t.Fatalf("never: %s\nshown: %s\nlogs: %v", what, e.list(), e.logs)
		}
		e.news.Wait()
	}
}

// list writes what is shown; the lock is held.
func (e *editor) list() string {
	var b strings.Builder
	for u, p := range e.shown {
		for _, d := range p.Diagnostics {
			fmt.Fprintf(&b, "\n%s %s", filepath.Base(u.Path()), describe(d))
		}
	}
	return b.String()
}

func describe(d protocol.Diagnostic) string {
	return fmt.Sprintf("%d:%d-%d:%d %v %v %v", d.Range.Start.Line, d.Range.Start.Character, d.Range.End.Line, d.Range.End.Character, d.Severity, d.Code, d.Message)
}

// codes lists the rules found in a document; the lock is held.
func (e *editor) codes(u uri.URI) []string {
	var out []string
	if p := e.shown[u]; p != nil {
		for _, d := range p.Diagnostics {
			out = append(out, string(d.Code.(protocol.String)))
		}
	}
	return out
}

func at(u uri.URI, line, char uint32) protocol.TextDocumentPositionParams {
	return protocol.TextDocumentPositionParams{TextDocument: protocol.TextDocumentIdentifier{URI: u}, Position: protocol.Position{Line: line, Character: char}}
}

// find gives the position of a needle in a text, behind the needle's part before "|".
func find(t testing.TB, text, needle string) (line, char uint32) {
	t.Helper()
	before, after, _ := strings.Cut(needle, "|")
	i := strings.Index(text, before+after)
	if i < 0 {
		t.Fatalf("%q is not in the text", needle)
	}
	i += len(before)
	line = uint32(strings.Count(text[:i], "\n"))
	start := strings.LastIndex(text[:i], "\n") + 1
	for _, r := range text[start:i] {
		char++
		if r > 0xffff {
			char++
		}
	}
	return line, char
}

// send sends a request. When it returns, that is on the wire under its number.
func send(conn jsonrpc2.Conn, method string, params any) (id int64, answer chan error) {
	sent := make(chan int64, 1)
	answer = make(chan error, 1)
	go func() {
		_, err := conn.Call(context.WithValue(context.Background(), sentKey{}, sent), method, params, nil)
		answer <- err
	}()
	return <-sent, answer
}

type sentKey struct{}

// tap tells who sends a request its number as soon as it is on the wire.
type tap struct{ jsonrpc2.Stream }

func (t tap) Write(ctx context.Context, m jsonrpc2.Message) (int64, error) {
	n, err := t.Stream.Write(ctx, m)
	if sent, ok := ctx.Value(sentKey{}).(chan int64); ok && err == nil {
		var call struct{ ID int64 }
		err = json.Unmarshal(must(jsonrpc2.EncodeMessage(m)), &call)
		sent <- call.ID
	}
	return n, err
}
