package server

import (
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
	p.conn = jsonrpc2.NewConn(jsonrpc2.NewStream(pipes{in, out, in.Close}), jsonrpc2.WithCodec(codec{}))
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
	v, _ := d.Version.Get()
	p.at[v] = time.Now()
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
// output of the built program: 200 edits for each row.
func BenchmarkLatency(b *testing.B) {
	path := build(b)
	for _, lines := range []int{2_000, 20_000} {
		text := bigPlan(lines)
		for _, row := range []struct {
			name string
			ask  func(p *program, u uri.URI, version int32, line, char uint32) // nil: wait for the findings
		}{
			{"edit to diagnostics", nil},
			{"hover after edit", func(p *program, u uri.URI, _ int32, line, char uint32) {
				must(p.Hover(context.Background(), &protocol.HoverParams{TextDocumentPositionParams: at(u, line, 1)}))
			}},
			{"completion after edit", func(p *program, u uri.URI, _ int32, line, char uint32) {
				must(p.Completion(context.Background(), &protocol.CompletionParams{TextDocumentPositionParams: at(u, line+1, 11)}))
			}},
			{"formatting", func(p *program, u uri.URI, _ int32, _, _ uint32) {
				must(p.Formatting(context.Background(), &protocol.DocumentFormattingParams{TextDocument: protocol.TextDocumentIdentifier{URI: u}}))
			}},
			{"semantic tokens", func(p *program, u uri.URI, _ int32, _, _ uint32) {
				must(p.SemanticTokensFull(context.Background(), &protocol.SemanticTokensParams{TextDocument: protocol.TextDocumentIdentifier{URI: u}}))
			}},
		} {
			b.Run(fmt.Sprintf("%d lines/%s", lines, row.name), func(b *testing.B) {
				for range b.N {
					times, peak, spent := latencies(b, path, text, row.ask)
					b.ReportMetric(ms(times[len(times)/2]), "p50-ms")
					b.ReportMetric(ms(times[len(times)*95/100]), "p95-ms")
					b.ReportMetric(ms(times[len(times)-1]), "max-ms")
					b.ReportMetric(peak, "peak-MB")
					b.ReportMetric(ms(spent)/float64(len(times)), "cpu-ms/edit") // tells a busy machine from a slow program
				}
			})
		}
	}
}

func must[T any](v T, err error) T {
	if err != nil {
		panic(err)
	}
	return v
}

func ms(d time.Duration) float64 { return float64(d.Microseconds()) / 1000 }

// latencies makes 200 edits in the lengths of runs and times what follows. It
// also gives the most memory held and the processor time spent, start included.
func latencies(b *testing.B, path, text string, ask func(*program, uri.URI, int32, uint32, uint32)) (times []time.Duration, peak float64, spent time.Duration) {
	dir := realPath(b.TempDir())
	file := filepath.Join(dir, "facade"+planSuffix)
	if err := os.WriteFile(file, []byte(text), 0o644); err != nil {
		b.Fatal(err)
	}
	p := run(b, path, dir)
	u := uri.File(file)
	p.open(b, u, text)
	var places []uint32 // the lines with a run's length
	for i, l := range strings.Split(text, "\n") {
		if strings.HasPrefix(l, `  length    = "2.`) {
			places = append(places, uint32(i))
		}
	}
	char := uint32(len(`  length    = "2.`))
	for n := range 200 {
		version := int32(n + 2)
		line := places[n*7%len(places)]
		r := protocol.Range{Start: protocol.Position{Line: line, Character: char}, End: protocol.Position{Line: line, Character: char + 1}}
		start := time.Now()
		p.edit(b, u, version, r, strconv.Itoa(4+n/len(places)%3))
		if ask == nil {
			times = append(times, p.wait(version).Sub(start))
		} else {
			ask(p, u, version, line, char)
			times = append(times, time.Since(start))
			p.wait(version)
		}
	}
	slices.Sort(times)
	peak = p.peak(b)
	if err := p.Shutdown(context.Background()); err != nil {
		b.Fatal(err)
	}
	if err := p.Exit(context.Background()); err != nil {
		b.Fatal(err)
	}
	if err := p.cmd.Wait(); err != nil {
		b.Fatal(err)
	}
	return times, peak, p.cmd.ProcessState.UserTime() + p.cmd.ProcessState.SystemTime()
}
