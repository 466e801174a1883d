package page

import (
	"bufio"
	"context"
	"encoding/json"
	"io"
	"net/http"
	"os"
	"runtime"
	"strings"
	"testing"
	"time"

	"ohmstead/lint"
	"ohmstead/lint/figures"
	"ohmstead/lint/rules"
	"ohmstead/lsp/ide"
	"ohmstead/schema"
	"ohmstead/schema/source"
)

// serve serves a page that ends with the test.
func serve(t testing.TB, opts Options) *Page {
	t.Helper()
	p, err := Serve(t.Context(), opts)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(p.Close)
	return p
}

// show shows all that is known of a plan.
func show(t testing.TB, p *Page, text string) {
	t.Helper()
	plan := schema.Decode("x", []*source.File{source.Parse(source.NewText("x/plan.ohm.hcl", []byte(text)))}, nil)
	f, err := figures.Work(t.Context(), plan, nil)
	if err != nil {
		t.Fatal(err)
	}
	v, err := lint.Run(t.Context(), plan, f, rules.All)
	if err != nil {
		t.Fatal(err)
	}
	p.Show(f)
	p.Solved(f)
	p.Judged(&ide.View{Plan: plan, Figures: f, Findings: v.Findings, Hidden: v.Hidden, Rules: rules.All}, lint.Hint)
}

// matrix is a demo plan: a surface, twenty runs, an order.
func matrix(t testing.TB) string { return demo(t, "matrix") }

func demo(t testing.TB, name string) string {
	t.Helper()
	text, err := os.ReadFile("../../testdata/plans/" + name + "/plan.ohm.hcl")
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// ask sends a request with some headers and gives the answer's status, headers and body.
func ask(t testing.TB, method, address, body string, headers ...string) (int, http.Header, string) {
	t.Helper()
	r, err := http.NewRequestWithContext(t.Context(), method, address, strings.NewReader(body))
	if err != nil {
		t.Fatal(err)
	}
	for i := 0; i < len(headers); i += 2 {
		if headers[i] == "Host" {
			r.Host = headers[i+1]
		}
		r.Header.Add(headers[i], headers[i+1])
	}
	a, err := http.DefaultClient.Do(r)
	if err != nil {
		t.Fatal(err)
	}
	defer a.Body.Close()
	text, err := io.ReadAll(a.Body)
	if err != nil {
		t.Fatal(err)
	}
	return a.StatusCode, a.Header, string(text)
}

func TestOnlyThePageItselfIsAnswered(t *testing.T) {
	asked := 0
	p := serve(t, Options{Jump: func(context.Context, Place) error { asked++; return nil }})
	show(t, p, matrix(t))
	home := p.Address()
	own := strings.TrimSuffix(home, "/"+p.secret+"/")
	place := `{"path":"x/plan.ohm.hcl","line":3}`
	for _, x := range []struct {
		name, method, address string
		headers               []string
		want                  int
	}{
		{"the page", "GET", home, nil, 200},
		{"a file of it", "GET", home + "main.js", []string{"Sec-Fetch-Site", "same-origin"}, 200},
		{"a link elsewhere that leads here", "GET", home, []string{"Sec-Fetch-Site", "cross-site"}, 200},
		{"a figure", "GET", home + "pattern?of=run.low-out-1", nil, 200},
		{"a jump", "POST", home + "jump", []string{"Origin", own}, 204},
		{"no such file", "GET", home + "none.js", nil, 404},
		{"a file beside", "GET", home + "../page.go", nil, 404},
		{"a directory up, hidden", "GET", home + "%2e%2e/page.go", nil, 404},
		{"no secret", "GET", own + "/", nil, 403},
		{"no secret, a file", "GET", own + "/main.js", nil, 403},
		{"another secret", "GET", own + "/" + strings.Repeat("A", len(p.secret)) + "/", nil, 403},
		{"part of the secret", "GET", own + "/" + p.secret[:10] + "/", nil, 403},
		{"another secret, events", "GET", own + "/" + strings.Repeat("A", len(p.secret)) + "/events", nil, 403},
		{"another host", "GET", home, []string{"Host", "lights.example"}, 403},
		{"another host with our port", "GET", home, []string{"Host", "lights.example" + own[strings.LastIndex(own, ":"):]}, 403},
		{"the name of this machine", "GET", home, []string{"Host", "localhost" + own[strings.LastIndex(own, ":"):]}, 403},
		{"another origin", "GET", home + "pattern?of=run.low-out-1", []string{"Origin", "http://lights.example"}, 403},
		{"an origin that hides", "POST", home + "jump", []string{"Origin", "null"}, 403},
		{"another port of this machine", "POST", home + "jump", []string{"Origin", "http://127.0.0.1:1"}, 403},
		{"two origins", "POST", home + "jump", []string{"Origin", own, "Origin", "http://lights.example"}, 403},
		{"another site loads a file", "GET", home + "main.js", []string{"Sec-Fetch-Site", "cross-site"}, 403},
		{"another port loads a file", "GET", home + "main.js", []string{"Sec-Fetch-Site", "same-site"}, 403},
		{"a file is written", "PUT", home + "main.js", []string{"Origin", own}, 405},
		{"a jump that is read", "GET", home + "jump", nil, 404},
		{"a long address", "GET", home + strings.Repeat("x", 30_000), nil, 431},
	} {
		t.Run(x.name, func(t *testing.T) {
			status, headers, body := ask(t, x.method, x.address, place, x.headers...)
			if status != x.want {
				t.Errorf("%d, want %d: %s", status, x.want, body)
			}
			if status == 403 && strings.Contains(body, p.secret) {
				t.Error("the refusal tells the secret")
			}
			if status == 431 {
				return // the library refuses it before us
			}
			for _, h := range [][2]string{
				{"Content-Security-Policy", policy}, {"X-Content-Type-Options", "nosniff"}, {"Referrer-Policy", "no-referrer"},
				{"Cache-Control", "no-store"}, {"Cross-Origin-Resource-Policy", "same-origin"}, {"Access-Control-Allow-Origin", ""},
			} {
				if got := headers.Get(h[0]); got != h[1] {
					t.Errorf("%s: %q, want %q", h[0], got, h[1])
				}
			}
		})
	}
	if asked != 1 {
		t.Errorf("the editor was asked %d times, want once", asked)
	}
	if !strings.HasPrefix(p.Address(), "http://127.0.0.1:") {
		t.Errorf("it listens at %s", p.Address())
	}
}

func TestPolicyAllowsNoInlineText(t *testing.T) {
	for _, word := range []string{"unsafe", "data:", "*", "http"} {
		if strings.Contains(policy, word) {
			t.Errorf("the policy has %q", word)
		}
	}
	index, err := static.ReadFile("static/index.html")
	if err != nil {
		t.Fatal(err)
	}
	for _, word := range []string{"<style", "style=", "onclick", "onload", "http:", "https:", "//"} {
		if strings.Contains(string(index), word) {
			t.Errorf("the page has %q", word)
		}
	}
	if n := strings.Count(string(index), "<script"); n != 1 {
		t.Errorf("the page has %d scripts, want one that is a file", n)
	}
	files, err := static.ReadDir("static")
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range files {
		text, err := static.ReadFile("static/" + f.Name())
		if err != nil {
			t.Fatal(err)
		}
		for _, word := range []string{"innerHTML", "outerHTML", "insertAdjacentHTML", "document.write", "eval(", "new Function", "https://"} {
			if strings.Contains(string(text), word) {
				t.Errorf("%s has %q", f.Name(), word)
			}
		}
	}
}

// listener reads what the page sends.
type listener struct {
	t     testing.TB
	lines *bufio.Scanner
}

func listen(t testing.TB, p *Page, headers ...string) *listener {
	t.Helper()
	r, err := http.NewRequestWithContext(t.Context(), "GET", p.Address()+"events", nil)
	if err != nil {
		t.Fatal(err)
	}
	for i := 0; i < len(headers); i += 2 {
		r.Header.Set(headers[i], headers[i+1])
	}
	a, err := http.DefaultClient.Do(r)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { a.Body.Close() })
	if got := a.Header.Get("Content-Type"); got != "text/event-stream" {
		t.Fatalf("events come as %q", got)
	}
	l := &listener{t, bufio.NewScanner(a.Body)}
	l.lines.Buffer(nil, 64<<20)
	return l
}

func (l *listener) next() news {
	l.t.Helper()
	for l.lines.Scan() {
		if data, ok := strings.CutPrefix(l.lines.Text(), "data: "); ok {
			var n news
			if err := json.Unmarshal([]byte(data), &n); err != nil {
				l.t.Fatal(err)
			}
			return n
		}
	}
	l.t.Fatalf("the events have ended: %v", l.lines.Err())
	return news{}
}

func keys(n news) string {
	var out []string
	for k := range n.Pieces {
		kind, _, _ := strings.Cut(k, "/")
		if !strings.Contains(strings.Join(out, " "), kind) {
			out = append(out, kind)
		}
	}
	return strings.Join(out, " ")
}

func TestOnlyChangesTravel(t *testing.T) {
	p := serve(t, Options{})
	text := matrix(t)
	show(t, p, text)
	l := listen(t, p)
	first := l.next()
	for _, kind := range []string{"head", "places", "frame", "run", "lead", "thing", "order", "volts", "flow", "level", "scale", "findings"} {
		if !strings.Contains(keys(first), kind) {
			t.Errorf("the first news have no %s: %s", kind, keys(first))
		}
	}
	show(t, p, text) // nothing
	p.Point("run.low-out-1")
	if n := l.next(); len(n.Pieces) != 1 || string(n.Pieces["cursor"]) != `{"id":"run.low-out-1"}` {
		t.Errorf("after moving the cursor: %v", n.Pieces)
	}
	// A line above everything moves all places and nothing else.
	show(t, p, "# above\n"+text)
	if n := l.next(); len(n.Pieces) != 1 || n.Pieces["places"] == nil {
		t.Errorf("after a line above: %s", keys(n))
	}
	// One row elsewhere: its geometry, and nothing of the other nineteen.
	moved := strings.Replace("# above\n"+text, `[["310 cm", "120 cm"], ["10 cm", "120 cm"]]`, `[["310 cm", "125 cm"], ["10 cm", "125 cm"]]`, 1)
	show(t, p, moved)
	if n := l.next(); len(n.Pieces) != 5 || n.Pieces["run/run.high-back-1"] == nil {
		t.Errorf("after moving five rows: %d pieces, %s", len(n.Pieces), keys(n))
	}
	// What is gone is told to be so, once.
	show(t, p, "plan \"x\" {}\n")
	n := l.next()
	if got, ok := n.Pieces["run/run.high-back-1"]; !ok || string(got) != "null" {
		t.Errorf("a run that is gone is %q (%v)", got, ok)
	}
	// Who comes anew has no need to hear of it; who was away a moment does.
	for k, text := range listen(t, p).next().Pieces {
		if string(text) == "null" {
			t.Errorf("a new browser is told that %s is gone", k)
		}
	}
	again := listen(t, p, "Last-Event-ID", "1").next()
	if _, ok := again.Pieces["run/run.high-back-1"]; !ok {
		t.Errorf("a browser that was away is not told what is gone: %s", keys(again))
	}
}

func TestHostileTextIsText(t *testing.T) {
	title := `<script>alert(1)</script>` + "\u202e" + strings.Repeat("x", 10_000)
	p := serve(t, Options{})
	encoded, err := json.Marshal(title)
	if err != nil {
		t.Fatal(err)
	}
	show(t, p, "plan \"x\" { title = "+strings.NewReplacer(`\u003c`, "<", `\u003e`, ">").Replace(string(encoded))+" }\n")
	var h head
	if err := json.Unmarshal(listen(t, p).next().Pieces["head"], &h); err != nil {
		t.Fatal(err)
	}
	if text, _ := json.Marshal(h); strings.Contains(string(text), "null") {
		t.Errorf("a plan with nothing in it has no lists: %s", text)
	}
	if h.Title != title {
		t.Errorf("the title came as %.60q", h.Title)
	}
	if _, _, body := ask(t, "GET", p.Address(), ""); strings.Contains(body, "alert") {
		t.Error("the title stands in the page")
	}
}

func TestPatterns(t *testing.T) {
	p := serve(t, Options{})
	show(t, p, demo(t, "stair"))
	for _, id := range []string{"run.tread-1", "lead.trunk-1"} {
		var got map[string]lit
		_, _, body := ask(t, "GET", p.Address()+"pattern?of="+id, "")
		if err := json.Unmarshal([]byte(body), &got); err != nil {
			t.Fatal(err)
		}
		on, off := 0, 0
		for _, x := range got {
			for _, s := range x.Shares {
				if s > 0 {
					on++
				} else {
					off++
				}
			}
		}
		if on == 0 || off == 0 { // its ceiling allows less than all pixels take
			t.Errorf("%s: %d pixels are lit, %d are not", id, on, off)
		}
	}
	if _, _, body := ask(t, "GET", p.Address()+"pattern?of=run.none", ""); body != "{}" {
		t.Errorf("a run that is not there: %s", body)
	}
}

func TestCloseLeavesNothing(t *testing.T) {
	for range 5 {
		p, err := Serve(context.Background(), Options{})
		if err != nil {
			t.Fatal(err)
		}
		show(t, p, matrix(t))
		for range 3 {
			listen(t, p).next()
		}
		p.Close()
		p.Close()
		if _, err := http.Get(p.Address()); err == nil {
			t.Error("it still answers")
		}
	}
	// The library's own goroutines end by themselves soon after.
	var stacks string
	for end := time.Now().Add(time.Minute); time.Now().Before(end); runtime.Gosched() {
		buf := make([]byte, 1<<20)
		stacks = string(buf[:runtime.Stack(buf, true)])
		if !strings.Contains(stacks, "page.(*Page)") && !strings.Contains(stacks, "net/http.(*conn).serve") {
			return
		}
	}
	t.Errorf("something of the page still runs:\n%s", stacks)
}

func TestEndsWithItsContext(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	p, err := Serve(ctx, Options{})
	if err != nil {
		t.Fatal(err)
	}
	show(t, p, matrix(t))
	l := listen(t, p)
	l.next()
	cancel()
	p.Close()
	for range 2 { // the empty line that ends the event may still be there
		if !l.lines.Scan() {
			return
		}
	}
	t.Error("the events go on")
}

func TestWhatIsAllowedIsCounted(t *testing.T) {
	p := serve(t, Options{})
	show(t, p, demo(t, "stair"))
	first := listen(t, p).next().Pieces
	if got := string(first["hidden"]); got != `{"comment":12}` {
		t.Errorf("hidden are %s", got)
	}
	var h head
	if err := json.Unmarshal(first["head"], &h); err != nil {
		t.Fatal(err)
	}
	if h.Cases[h.Opens] != "held" {
		t.Errorf("a plan with a ceiling opens in %s", h.Cases[h.Opens])
	}
}
