package server

import (
	"context"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
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

// BenchmarkStorm is what an editor sees while somebody types as fast as a
// keyboard can: a character every 10 ms in a plan of walls, a completion asked at
// each and cancelled at the next, and a hover every 50 ms, over the standard
// input and output of the built program. All that an editor asks beside
// completions comes in a second row, and busy processors in two more. It reports
//
//   - how long after the last character of a storm its findings came,
//   - how long the hovers waited, from when they were to be sent,
//   - how many of the requests were cancelled while they were at work, in
//     percent, and how soon those were answered,
//   - how many requests were at work at once, and
//   - how often findings were shown while the storm lasted.
func BenchmarkStorm(b *testing.B) {
	path := build(b)
	ref := newReference()
	all := []string{
		protocol.MethodTextDocumentCompletion, protocol.MethodTextDocumentSignatureHelp, protocol.MethodTextDocumentSemanticTokensFull,
		protocol.MethodTextDocumentInlayHint, protocol.MethodTextDocumentCodeLens, protocol.MethodTextDocumentDocumentSymbol,
		protocol.MethodTextDocumentDocumentHighlight, protocol.MethodTextDocumentFoldingRange, protocol.MethodTextDocumentCodeAction,
	}
	for _, c := range []struct {
		name string
		asks []string
		busy int
	}{
		{"completions", all[:1], 0},
		{"all requests", all, 0},
		{"completions, busy processors", all[:1], runtime.GOMAXPROCS(0)},
		{"all requests, busy processors", all, runtime.GOMAXPROCS(0)},
	} {
		b.Run(c.name, func(b *testing.B) {
			for b.Loop() {
				busy(b, c.busy)
				measureStorm(b, path, c.asks, ref)
			}
		})
	}
}

// busy keeps processors at work beside the benchmark: as many other processes.
func busy(b *testing.B, n int) {
	for range n {
		cmd := exec.Command(os.Args[0], "-test.run=^$", "-test.bench=Reference", "-test.benchtime=1h")
		if err := cmd.Start(); err != nil {
			b.Fatal(err)
		}
		b.Cleanup(func() {
			_ = cmd.Process.Kill() // it does not end by itself
			_ = cmd.Wait()
		})
	}
}

const (
	stormPace  = 10 * time.Millisecond // between characters
	stormHover = 5                     // characters between hovers
)

// stormy is what is typed in one storm.
const stormy = `lead "storm" {
  from    = supply.w1-1.out
  to      = run.w1-2-3.start
  wire    = wire.tie
  length  = "20 cm"
  fuse    = "5 A"
  carries = "minus"
}

signal "storm" {
  from   = controller.w1.port.a
  to     = run.w1-1-1.start
  length = "1.2 m"
}
`

func measureStorm(b *testing.B, path string, asks []string, ref *reference) {
	dir := realPath(b.TempDir())
	text := bigplan.Wall(1)
	file := filepath.Join(dir, "a"+plans.Suffix)
	if err := os.WriteFile(file, []byte(text), 0o644); err != nil {
		b.Fatal(err)
	}
	typist := newTypist(text)
	p := run(b, path, dir)
	p.open(b, uri.File(file), text)
	s := &storm{program: p, uri: uri.File(file), at: typist.position(typist.gap, 0), version: 1}
	for line, l := range typist.lines[:typist.gap] {
		if strings.HasPrefix(l, `lead "`) || strings.HasPrefix(l, `run "`) {
			s.names = append(s.names, protocol.Position{Line: uint32(line), Character: uint32(strings.IndexByte(l, '"') + 1)})
		}
	}
	var late []time.Duration
	for range rounds {
		shown := s.shown()
		last := s.blow(b, asks)
		s.publishes += s.shown() - shown
		late = append(late, p.wait(s.version).Sub(last))
		s.work.Wait()
		s.clear(b)
		for range 20 {
			ref.measure()
		}
	}
	load := ref.time()
	b.ReportMetric(ms(percentile(late, 50)), "late-p50-ms")
	b.ReportMetric(ms(percentile(late, 100)), "late-max-ms")
	b.ReportMetric(ms(percentile(s.hovers, 50)), "hover-p50-ms")
	b.ReportMetric(ms(percentile(s.hovers, 95)), "hover-p95-ms")
	b.ReportMetric(ms(percentile(s.hovers, 100)), "hover-max-ms")
	b.ReportMetric(float64(100*len(s.dropped))/float64(s.asked), "dropped-%")
	if len(s.dropped) > 0 {
		b.ReportMetric(ms(percentile(s.dropped, 95)), "drop-p95-ms")
		b.ReportMetric(ms(percentile(s.dropped, 100)), "drop-max-ms")
	}
	b.ReportMetric(float64(s.most), "at-work")
	b.ReportMetric(float64(s.publishes)/rounds, "shown/storm")
	b.ReportMetric(ms(load), "ref-ms")
	b.ReportMetric(p.peak(b), "peak-MB")
	b.ReportMetric(0, "ns/op") // the time of a whole row says nothing
	p.quit(b)
}

// storm is a client in a hurry.
type storm struct {
	*program
	uri       uri.URI
	at        protocol.Position // the cursor
	version   int32
	names     []protocol.Position // where hovers are asked
	publishes int

	work sync.WaitGroup // requests that are not answered
	mu   sync.Mutex     // of what follows

	hovers  []time.Duration
	asked   int             // requests that are cancelled
	dropped []time.Duration // of those that the server gave up: from when they were cancelled
	running int
	most    int
}

func (s *storm) shown() int {
	s.program.mu.Lock()
	defer s.program.mu.Unlock()
	return len(s.program.at)
}

// blow types a text, and says when its last character was sent.
func (s *storm) blow(b *testing.B, asks []string) time.Time {
	begin := time.Now()
	var last time.Time
	cancel := func() {}
	for i := range len(stormy) {
		due := begin.Add(time.Duration(i) * stormPace)
		time.Sleep(time.Until(due))
		cancel()
		last = time.Now()
		s.put(b, stormy[i:i+1])
		cancel = s.ask(asks)
		if i%stormHover == 0 {
			s.hover(b, due)
		}
	}
	cancel()
	return last
}

// put types one character.
func (s *storm) put(b *testing.B, char string) {
	s.version++
	s.program.edit(b, s.uri, s.version, protocol.Range{Start: s.at, End: s.at}, char)
	if s.at.Character++; char == "\n" {
		s.at = protocol.Position{Line: s.at.Line + 1}
	}
}

// clear takes all that was typed away again.
func (s *storm) clear(b *testing.B) {
	s.version++
	from := protocol.Position{Line: s.at.Line - uint32(strings.Count(stormy, "\n"))}
	s.program.edit(b, s.uri, s.version, protocol.Range{Start: from, End: s.at}, "")
	s.at = from
	s.wait(s.version)
}

// ask sends requests, and gives what cancels them.
func (s *storm) ask(methods []string) (cancel func()) {
	params := anyParams(string(s.uri), s.at.Line, s.at.Character)
	params["range"] = protocol.Range{Start: protocol.Position{Line: s.at.Line - 25}, End: protocol.Position{Line: s.at.Line + 25}} // what a window shows
	var all []func()
	for _, m := range methods {
		var mu sync.Mutex
		var given time.Time // when it was cancelled
		id := s.send(m, params, func(err error) {
			now := time.Now()
			mu.Lock()
			was := given
			mu.Unlock()
			s.mu.Lock()
			defer s.mu.Unlock()
			s.asked++
			if c := code(err); !was.IsZero() && (c == jsonrpc2.Code(protocol.LSPErrorCodesRequestCancelled) || c == jsonrpc2.Code(protocol.LSPErrorCodesContentModified)) {
				s.dropped = append(s.dropped, now.Sub(was))
			}
		})
		all = append(all, func() {
			mu.Lock()
			given = time.Now()
			mu.Unlock()
			_ = s.conn.Notify(context.Background(), protocol.MethodCancelRequest, map[string]any{"id": id})
		})
	}
	return func() {
		for _, c := range all {
			c()
		}
	}
}

// hover asks about a block, which was to be sent at a time.
func (s *storm) hover(b *testing.B, due time.Time) {
	at := s.names[int(s.version)*7%len(s.names)]
	s.send(protocol.MethodTextDocumentHover, anyParams(string(s.uri), at.Line, at.Character), func(err error) {
		if err != nil {
			b.Errorf("hover: %v", err)
		}
		s.mu.Lock()
		defer s.mu.Unlock()
		s.hovers = append(s.hovers, time.Since(due))
	})
}

// send sends a request and gives its number, without waiting for its answer.
func (s *storm) send(method string, params any, answered func(error)) int64 {
	s.mu.Lock()
	s.running++
	s.most = max(s.most, s.running)
	s.mu.Unlock()
	id, answer := send(s.conn, method, params)
	s.work.Go(func() {
		answered(<-answer)
		s.mu.Lock()
		defer s.mu.Unlock()
		s.running--
	})
	return id
}
