package server

import (
	"cmp"
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"go.lsp.dev/jsonrpc2"
	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"

	"ohmstead/schema/bigplan"
	"ohmstead/schema/plans"
)

// program is the built program as a language server on its standard input and
// output.
type program struct {
	protocol.UnimplementedClient
	protocol.Server
	cmd    *exec.Cmd
	conn   jsonrpc2.Conn
	hangUp func() error

	mu    sync.Mutex
	at    map[int32]time.Time // when the findings of a version came
	heard *sync.Cond
	last  *protocol.PublishDiagnosticsParams
	logs  []string
}

// pipes is the two ends of a process.
type pipes struct {
	in  interface{ Write([]byte) (int, error) }
	out interface{ Read([]byte) (int, error) }
	end func() error
}

func (p pipes) Read(b []byte) (int, error)  { return p.out.Read(b) }
func (p pipes) Write(b []byte) (int, error) { return p.in.Write(b) }
func (p pipes) Close() error                { return p.end() }

// build builds the program once into a directory of the test.
func build(t testing.TB) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "ohmstead")
	if runtime.GOOS == "windows" {
		path += ".exe"
	}
	out, err := exec.Command("go", "build", "-o", path, "ohmstead/cmd/ohmstead").CombinedOutput()
	if err != nil {
		t.Fatalf("go build: %v\n%s", err, out)
	}
	return path
}

// run starts the program and initializes it.
func run(t testing.TB, path, dir string) *program {
	t.Helper()
	p := &program{cmd: exec.Command(path, "lsp", "--stdio"), at: map[int32]time.Time{}}
	p.heard = sync.NewCond(&p.mu)
	p.cmd.Stderr = os.Stderr
	in, err := p.cmd.StdinPipe()
	if err != nil {
		t.Fatal(err)
	}
	out, err := p.cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := p.cmd.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = p.cmd.Process.Kill() }) // it is gone already when all went well
	p.hangUp = in.Close
	p.conn = jsonrpc2.NewConn(tap{jsonrpc2.NewStream(pipes{in, out, in.Close})}, jsonrpc2.WithCodec(codec{}))
	p.conn.Go(context.Background(), protocol.ClientHandler(p, jsonrpc2.MethodNotFoundHandler))
	p.Server = protocol.ServerDispatcher(p.conn)
	var params protocol.InitializeParams
	text := fmt.Sprintf(`{"processId": null, "rootUri": %q, "capabilities": %s}`, uri.File(dir), capable)
	if err := protocol.Unmarshal([]byte(text), &params); err != nil {
		t.Fatal(err)
	}
	if _, err := p.Initialize(context.Background(), &params); err != nil {
		t.Fatal(err)
	}
	if err := p.Initialized(context.Background(), &protocol.InitializedParams{}); err != nil {
		t.Fatal(err)
	}
	return p
}

func (p *program) PublishDiagnostics(_ context.Context, d *protocol.PublishDiagnosticsParams) error {
	p.mu.Lock()
	defer p.mu.Unlock()
	if v, _ := d.Version.Get(); p.at[v].IsZero() {
		p.at[v] = time.Now()
	}
	p.last = d
	p.heard.Broadcast()
	return nil
}

func (p *program) Configuration(context.Context, *protocol.ConfigurationParams) ([]protocol.LSPAny, error) {
	return []protocol.LSPAny{protocol.LSPAny("null")}, nil
}

func (p *program) WorkDoneProgressCreate(context.Context, *protocol.WorkDoneProgressCreateParams) error {
	return nil
}

func (p *program) Progress(context.Context, *protocol.ProgressParams) error { return nil }

func (p *program) RegisterCapability(context.Context, *protocol.RegistrationParams) error {
	return nil
}

// wait waits for the findings of a version and says when they came.
func (p *program) wait(version int32) time.Time {
	p.mu.Lock()
	defer p.mu.Unlock()
	for p.at[version].IsZero() {
		p.heard.Wait()
	}
	return p.at[version]
}

func (p *program) open(t testing.TB, u uri.URI, text string) {
	t.Helper()
	if err := p.DidOpen(context.Background(), &protocol.DidOpenTextDocumentParams{TextDocument: protocol.TextDocumentItem{URI: u, LanguageID: "ohmstead", Version: 1, Text: text}}); err != nil {
		t.Fatal(err)
	}
	p.wait(1)
}

func (p *program) edit(t testing.TB, u uri.URI, version int32, r protocol.Range, text string) {
	params := &protocol.DidChangeTextDocumentParams{ContentChanges: []protocol.TextDocumentContentChangeEvent{&protocol.TextDocumentContentChangePartial{Range: r, Text: text}}}
	params.TextDocument.URI, params.TextDocument.Version = u, version
	if err := p.DidChange(context.Background(), params); err != nil {
		t.Fatal(err)
	}
}

// peak reads the most memory that the program has held, in MB.
func (p *program) peak(t testing.TB) float64 {
	data, err := os.ReadFile(fmt.Sprintf("/proc/%d/status", p.cmd.Process.Pid))
	if err != nil {
		t.Logf("peak memory is only read on Linux: %v", err)
		return 0
	}
	for line := range strings.Lines(string(data)) {
		if rest, ok := strings.CutPrefix(line, "VmHWM:"); ok {
			kb, err := strconv.Atoi(strings.Fields(rest)[0])
			if err != nil {
				t.Fatal(err)
			}
			return float64(kb) / 1024
		}
	}
	return 0
}

// BenchmarkLatency measures what an editor sees, over the standard input and
// output of the built program: 200 edits for each row, in five rounds of 40, each
// beside a reference load. Of the reference's time, the median round is given.
func BenchmarkLatency(b *testing.B) {
	path := build(b)
	ref := newReference()
	for _, plan := range []struct {
		name, text string
		kinds      []string
		rings      bool
	}{
		{"least/one island", bigplan.Islands(50), []string{"lead"}, false}, // what the way there and back costs
		{"islands/2000 lines", bigplan.Islands(2_000), []string{"lead", "length"}, false},
		{"islands/20000 lines", bigplan.Islands(20_000), []string{"lead", "length"}, false},
		{"wall/2000 lines", bigplan.Wall(1), kinds, true},
		{"wall/20000 lines", bigplan.Wall(10), kinds, true},
	} {
		rows := []row{
			{"edit to diagnostics", plan.kinds, nil},
			{"hover after edit", plan.kinds, (*session).hover},
			{"completion after edit", plan.kinds, (*session).complete},
			{"code action after edit", plan.kinds, (*session).act},
			{"semantic tokens", plan.kinds, (*session).tokens},
			{"formatting", plan.kinds[:1], (*session).format}, // half a block is not formatted
		}
		alone := plan.kinds
		if plan.rings {
			alone = append([]string{"ringed lead"}, alone...)
		}
		for _, kind := range alone {
			rows = append(rows, row{"edit to diagnostics, " + kind, []string{kind}, nil})
		}
		for _, r := range rows {
			b.Run(plan.name+"/"+r.name, func(b *testing.B) {
				for b.Loop() {
					r.measure(b, path, plan.text, ref)
				}
			})
		}
	}
}

// row is one thing that is measured.
type row struct {
	name  string
	kinds []string                               // of the edits, in turn
	ask   func(*session, testing.TB, edit) error // after an edit; nil to wait for the findings
}

const (
	rounds     = 5
	roundEdits = 40
)

// session is an editor at work on one document.
type session struct {
	*program
	*typist
	uri     uri.URI
	version int32
	asked   int
}

// measure reports one row.
func (r row) measure(b *testing.B, path, text string, ref *reference) {
	dir := realPath(b.TempDir())
	file := filepath.Join(dir, "a"+plans.Suffix)
	if err := os.WriteFile(file, []byte(text), 0o644); err != nil {
		b.Fatal(err)
	}
	s := &session{program: run(b, path, dir), typist: newTypist(text), uri: uri.File(file), version: 1}
	s.open(b, s.uri, text)
	var all, refs []time.Duration
	var mid, high []float64
	for range rounds {
		var times []time.Duration
		for range roundEdits {
			e := s.do(b, r.kinds[int(s.version-1)%len(r.kinds)])
			s.version++
			start := time.Now()
			s.edit(b, s.uri, s.version, e.at, e.text)
			if r.ask == nil {
				times = append(times, s.wait(s.version).Sub(start))
			} else {
				if err := r.ask(s, b, e); err != nil {
					b.Fatal(err)
				}
				times = append(times, time.Since(start))
				s.wait(s.version)
			}
			ref.measure()
		}
		load := ref.time()
		all, refs = append(all, times...), append(refs, load)
		mid = append(mid, float64(percentile(times, 50))/float64(load))
		high = append(high, float64(percentile(times, 95))/float64(load))
	}
	b.ReportMetric(ms(percentile(all, 50)), "p50-ms")
	b.ReportMetric(ms(percentile(all, 95)), "p95-ms")
	b.ReportMetric(ms(percentile(all, 100)), "max-ms")
	b.ReportMetric(percentile(mid, 50), "p50/ref")
	b.ReportMetric(percentile(high, 50), "p95/ref")
	b.ReportMetric(ms(percentile(refs, 50)), "ref-ms")
	b.ReportMetric(s.peak(b), "peak-MB")
	b.ReportMetric(0, "ns/op") // the time of a whole row says nothing
	s.quit(b)
}

// percentile is the value that so many percent of the values do not exceed.
func percentile[T cmp.Ordered](vs []T, percent int) T {
	vs = slices.Sorted(slices.Values(vs))
	return vs[(len(vs)*percent+99)/100-1]
}

func ms(d time.Duration) float64 { return float64(d.Microseconds()) / 1000 }

func must[T any](v T, err error) T {
	if err != nil {
		panic(err)
	}
	return v
}

// hover asks about the block that was edited.
func (s *session) hover(_ testing.TB, e edit) error {
	h, err := s.Hover(context.Background(), &protocol.HoverParams{TextDocumentPositionParams: at(s.uri, e.name.Line, e.name.Character)})
	if err == nil && h == nil {
		err = fmt.Errorf("nothing to say at %v", e.name)
	}
	return err
}

// complete asks what a lead may come from.
func (s *session) complete(b testing.TB, e edit) error {
	p := s.value(b, `lead "`, "  from")
	list, err := s.Completion(context.Background(), &protocol.CompletionParams{TextDocumentPositionParams: at(s.uri, p.Line, p.Character)})
	if err == nil && list == nil {
		err = fmt.Errorf("nothing to choose from at %v", p)
	}
	return err
}

// act asks what can be done about one of the findings that are shown, or where
// there are none about the block that was edited.
func (s *session) act(_ testing.TB, e edit) error {
	about := protocol.CodeActionParams{TextDocument: protocol.TextDocumentIdentifier{URI: s.uri}, Range: protocol.Range{Start: e.name, End: e.name}}
	s.mu.Lock()
	if ds := s.last.Diagnostics; len(ds) > 0 {
		d := ds[s.asked%len(ds)]
		about.Range, about.Context.Diagnostics = d.Range, []protocol.Diagnostic{d}
	}
	s.mu.Unlock()
	s.asked++
	_, err := s.CodeAction(context.Background(), &about)
	return err
}

func (s *session) tokens(testing.TB, edit) error {
	_, err := s.SemanticTokensFull(context.Background(), &protocol.SemanticTokensParams{TextDocument: protocol.TextDocumentIdentifier{URI: s.uri}})
	return err
}

func (s *session) format(testing.TB, edit) error {
	_, err := s.Formatting(context.Background(), &protocol.DocumentFormattingParams{TextDocument: protocol.TextDocumentIdentifier{URI: s.uri}})
	return err
}

// quit ends the program as an editor does.
func (p *program) quit(b testing.TB) {
	if err := p.Shutdown(context.Background()); err != nil {
		b.Fatal(err)
	}
	if err := p.Exit(context.Background()); err != nil {
		b.Fatal(err)
	}
	if err := p.cmd.Wait(); err != nil {
		b.Fatal(err)
	}
}
