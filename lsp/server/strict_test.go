package server

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"maps"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"

	"go.lsp.dev/jsonrpc2"
	"go.lsp.dev/uri"
)

// conversation listens to a client and the server, and keeps what the server
// says against the protocol: a message that the meta model does not allow, a
// place that is not in the document, anything that this client has not said it
// can take (offers_test.go).
type conversation struct {
	model *metaModel

	mu       sync.Mutex
	can      any    // the client's capabilities
	options  any    // its initializationOptions
	offers   any    // the server's capabilities
	encoding string // of positions
	asked    map[string]exchange
	ours     map[string]string          // what the server asked, by its id
	docs     map[string]*conversed      // open documents
	progress map[string]string          // what was last said of a token
	tokens   map[string]int             // how long the semantic tokens of a result are
	heard    map[string]map[string]bool // the methods that were answered or sent, and the structures in them
	wrong    []string
	told     map[string]bool
}

// exchange is a request of the client, with the documents as they were then.
type exchange struct {
	method string
	params any
	texts  map[string]version
}

type version struct {
	number int64
	*lines
}

func (c *conversation) version(n any, text any) version {
	s, _ := text.(string)
	return version{number(n), newLines(s, c.encoding)}
}

// conversed is an open document: its last texts, the newest last.
type conversed struct{ versions []version }

func (d *conversed) newest() version { return d.versions[len(d.versions)-1] }

func newConversation(m *metaModel) *conversation {
	return &conversation{model: m, encoding: "utf-16", asked: map[string]exchange{}, ours: map[string]string{}, docs: map[string]*conversed{}, progress: map[string]string{},
		tokens: map[string]int{}, heard: map[string]map[string]bool{}, told: map[string]bool{}}
}

// overheard is a client's stream that a conversation listens to.
type overheard struct {
	jsonrpc2.Stream
	c *conversation
}

// overhear has the test fail for all that the server says wrongly.
func overhear(t *testing.T, s jsonrpc2.Stream) (jsonrpc2.Stream, *conversation) {
	t.Helper()
	m, err := publishedModel()
	if err != nil {
		t.Fatal(err)
	}
	c := newConversation(m)
	t.Cleanup(func() {
		c.mu.Lock()
		defer c.mu.Unlock()
		for i, w := range c.wrong {
			if i == 20 {
				t.Errorf("and %d more", len(c.wrong)-i)
				break
			}
			t.Error("the server against the protocol: " + w)
		}
	})
	return overheard{s, c}, c
}

func (o overheard) Write(ctx context.Context, msg jsonrpc2.Message) (int64, error) {
	o.c.hear(false, msg)
	return o.Stream.Write(ctx, msg)
}

func (o overheard) Read(ctx context.Context) (jsonrpc2.Message, int64, error) {
	msg, n, err := o.Stream.Read(ctx)
	if err == nil {
		o.c.hear(true, msg)
	}
	return msg, n, err
}

// hear takes a message as it goes over the wire.
func (c *conversation) hear(fromServer bool, msg jsonrpc2.Message) {
	frame, err := jsonrpc2.EncodeMessage(msg)
	m := parsed(frame)
	c.mu.Lock()
	defer c.mu.Unlock()
	if err != nil || m == nil {
		c.say("no JSON: %s, %v", frame, err)
		return
	}
	id, method, params := fmt.Sprint(of(m, "id")), text(of(m, "method")), of(m, "params")
	switch call := of(m, "id") != nil; {
	case fromServer && method == "":
		c.serverAnswers(id, m)
	case fromServer && call:
		c.serverAsks(id, method, params)
	case fromServer:
		c.serverTells(method, params)
	case method == "":
		c.clientAnswers(id, of(m, "error") == nil)
	case call:
		c.clientAsks(id, method, params)
	default:
		c.clientTells(method, params)
	}
}

// parsed decodes JSON with its numbers as they are written; nil where it is none.
func parsed(data []byte) (v any) {
	d := json.NewDecoder(bytes.NewReader(data))
	d.UseNumber()
	if d.Decode(&v) != nil {
		return nil
	}
	return v
}

// of follows names and, in lists, numbers into a value; nil where they lead nowhere.
func of(v any, names ...any) any {
	for _, n := range names {
		switch n := n.(type) {
		case string:
			o, _ := v.(map[string]any)
			v = o[n]
		case int:
			l, _ := v.([]any)
			if n >= len(l) {
				return nil
			}
			v = l[n]
		}
	}
	return v
}

func text(v any) string { s, _ := v.(string); return s }

func number(v any) int64 {
	n, _ := v.(json.Number)
	i, _ := n.Int64()
	return i
}

var indices = regexp.MustCompile(`\[\d+\]`)

func (c *conversation) say(format string, args ...any) {
	w := fmt.Sprintf(format, args...)
	if kind := indices.ReplaceAllString(w, "[]"); !c.told[kind] { // once for a list
		c.told[kind] = true
		c.wrong = append(c.wrong, w)
	}
}

func (c *conversation) clientAsks(id, method string, params any) {
	a := exchange{method: method, params: params, texts: map[string]version{}}
	for u, d := range c.docs {
		a.texts[u] = d.newest()
	}
	c.asked[id] = a
	if method == "initialize" {
		c.can, c.options = of(params, "capabilities"), of(params, "initializationOptions")
	}
	if token := of(params, "workDoneToken"); token != nil {
		c.progress[fmt.Sprint(token)] = "created"
	}
}

func (c *conversation) clientTells(method string, params any) {
	u := canonical(text(of(params, "textDocument", "uri")))
	switch method {
	case "textDocument/didOpen":
		c.docs[u] = &conversed{[]version{c.version(of(params, "textDocument", "version"), of(params, "textDocument", "text"))}}
	case "textDocument/didClose":
		delete(c.docs, u)
	case "textDocument/didChange":
		d := c.docs[u]
		if d == nil {
			return
		}
		now := d.newest().lines
		list, _ := of(params, "contentChanges").([]any)
		for _, change := range list {
			r := of(change, "range")
			if r == nil {
				now = newLines(text(of(change, "text")), c.encoding)
				continue
			}
			start, end := now.nearest(of(r, "start")), now.nearest(of(r, "end"))
			now = newLines(now.text[:start]+text(of(change, "text"))+now.text[max(start, end):], c.encoding)
		}
		d.versions = append(d.versions, version{number(of(params, "textDocument", "version")), now})
		if n := len(d.versions); n > 40 {
			d.versions = slices.Clone(d.versions[n-20:])
		}
	}
}

func (c *conversation) clientAnswers(id string, ok bool) {
	if token, create := strings.CutPrefix(c.ours[id], "window/workDoneProgress/create "); create && ok {
		c.progress[token] = "created"
	}
}

func (c *conversation) serverAsks(id, method string, params any) {
	if _, twice := c.ours[id]; twice {
		c.say("%s: the id %s comes a second time", method, id)
	}
	c.ours[id] = method
	if method == "window/workDoneProgress/create" {
		c.ours[id] += " " + fmt.Sprint(of(params, "token"))
	}
	c.serverSends(method, params)
	if m := c.model.messages[method]; m != nil && m.ClientCapability != "" {
		need := m.ClientCapability
		switch method {
		case "workspace/codeLens/refresh":
			need += ".refreshSupport" // the model names only the parent
		case "window/showMessageRequest":
			need = "" // that is about more than a text
		}
		if need != "" && !c.has(need) {
			c.say("%s is sent to a client without %s", method, need)
		}
	}
	if method == "client/registerCapability" {
		c.registers(params)
	}
}

func (c *conversation) serverTells(method string, params any) {
	c.serverSends(method, params)
	if method == "$/progress" {
		c.progresses(fmt.Sprint(of(params, "token")), of(params, "value"))
	}
}

// serverSends judges what the server sends by itself.
func (c *conversation) serverSends(method string, params any) {
	m := c.model.messages[method]
	if m == nil || m.MessageDirection == "clientToServer" {
		c.say("%s is no message of a server", method)
		return
	}
	if c.offers == nil && !slices.Contains([]string{"window/showMessage", "window/logMessage", "telemetry/event", "window/showMessageRequest", "$/logTrace"}, method) {
		c.say("%s is sent before initialize is answered", method)
	}
	if m.Params == nil {
		if params != nil {
			c.say("%s takes no params", method)
		}
		return
	}
	a := exchange{method: method, params: params, texts: map[string]version{}}
	for u, d := range c.docs {
		a.texts[u] = d.newest()
	}
	v := c.model.judge("params", m.Params, params)
	c.hears(method, v)
	for _, w := range v.wrong {
		c.say("%s: %s", method, w)
	}
	c.limits(&a, v.made)
	switch method {
	case "textDocument/publishDiagnostics": // of an older text, if it is said
		u := canonical(text(of(params, "uri")))
		d := c.docs[u]
		if d == nil {
			return
		}
		candidates := d.versions
		if n := of(params, "version"); n != nil {
			candidates = slices.DeleteFunc(slices.Clone(candidates), func(v version) bool { return v.number != number(n) })
		}
		var least []string
		for i, old := range candidates {
			a.texts[u] = old
			if w := c.places(&a, u, params); i == 0 || len(w) < len(least) {
				least = w
			}
		}
		for _, w := range least {
			c.say("%s: %s", method, w)
		}
	case "workspace/applyEdit":
		for _, w := range c.places(&a, "", params) {
			c.say("%s: %s", method, w)
		}
	}
}

func (c *conversation) serverAnswers(id string, answer any) {
	a, ok := c.asked[id]
	if !ok {
		c.say("an answer with the id %s, which nothing has", id)
		return
	}
	delete(c.asked, id)
	if err := of(answer, "error"); err != nil {
		if number(of(err, "code")) == 0 || text(of(err, "message")) == "" {
			c.say("%s: an error without code or text: %v", a.method, err)
		}
		return
	}
	m := c.model.messages[a.method]
	if m == nil || m.Result == nil {
		c.say("%s is answered, which is no request", a.method)
		return
	}
	value := of(answer, "result")
	v := c.model.judge("result", m.Result, value)
	c.hears(a.method, v)
	for _, w := range v.wrong {
		c.say("%s: %s", a.method, w)
	}
	if a.method == "initialize" {
		c.offers = of(value, "capabilities")
		if e := text(of(c.offers, "positionEncoding")); e != "" {
			c.encoding = e
		}
	}
	c.limits(&a, v.made)
	c.answers(&a, value)
	for _, w := range c.places(&a, canonical(text(of(a.params, "textDocument", "uri"))), value) {
		c.say("%s: %s", a.method, w)
	}
}

func (c *conversation) hears(method string, v verdict) {
	if c.heard[method] == nil {
		c.heard[method] = map[string]bool{}
	}
	for _, s := range v.made {
		c.heard[method][s.name] = true
	}
}

// progresses holds what is said of a token against its order.
func (c *conversation) progresses(token string, value any) {
	kind := text(of(value, "kind"))
	name := map[string]string{"begin": "WorkDoneProgressBegin", "report": "WorkDoneProgressReport", "end": "WorkDoneProgressEnd"}[kind]
	if name == "" {
		c.say("$/progress: kind %q", kind)
		return
	}
	for _, w := range c.model.judgeNamed("value", name, value).wrong {
		c.say("$/progress: %s", w)
	}
	before := c.progress[token]
	if kind == "begin" && before != "created" || kind != "begin" && before != "begin" && before != "report" {
		c.say("$/progress: %s of a token after %q", kind, before)
	}
	c.progress[token] = kind
}

// places looks at every position in a value, in the document that it is about.
func (c *conversation) places(a *exchange, doc string, v any) (wrong []string) {
	switch v := v.(type) {
	case []any:
		for _, x := range v {
			wrong = append(wrong, c.places(a, doc, x)...)
		}
	case map[string]any:
		if u := text(v["uri"]); u != "" {
			doc = canonical(u)
		}
		if u := text(of(v["textDocument"], "uri")); u != "" {
			doc = canonical(u)
		}
		if start, end := v["start"], v["end"]; of(start, "line") != nil && of(end, "line") != nil {
			return c.rangeIn(a, doc, start, end)
		}
		if v["line"] != nil && v["character"] != nil {
			return c.rangeIn(a, doc, v, v)
		}
		for _, k := range slices.Sorted(maps.Keys(v)) {
			about := doc
			switch k {
			case "targetRange", "targetSelectionRange":
				about = canonical(text(v["targetUri"]))
			case "data":
				continue // the server's own
			}
			if k == "changes" || k == "relatedDocuments" {
				byDoc, _ := v[k].(map[string]any)
				for u, x := range byDoc {
					wrong = append(wrong, c.places(a, canonical(u), x)...)
				}
				continue
			}
			if k == "fromRanges" {
				about = canonical(text(of(v, "from", "uri")))
				if about == "" {
					about = canonical(text(of(a.params, "item", "uri")))
				}
			}
			wrong = append(wrong, c.places(a, about, v[k])...)
		}
	}
	return wrong
}

func (c *conversation) rangeIn(a *exchange, doc string, start, end any) []string {
	lines, ok := c.textOf(a, doc)
	if !ok {
		return nil
	}
	from, ok1 := lines.exact(start)
	to, ok2 := lines.exact(end)
	if !ok1 || !ok2 || from > to {
		return []string{fmt.Sprintf("%v to %v is no place in %s", start, end, doc)}
	}
	return nil
}

// textOf is the text that a message may name places of.
func (c *conversation) textOf(a *exchange, doc string) (*lines, bool) {
	if v, ok := a.texts[doc]; ok {
		return v.lines, true
	}
	if name, ok := strings.CutPrefix(doc, catalogueScheme+":///"); ok {
		if f, ok := catalogueFile(name); ok {
			return newLines(f.Text.String(), c.encoding), true
		}
	}
	return nil, false // on disk, where it may change meanwhile
}

// canonical writes a URI as the library does.
func canonical(s string) string {
	u, err := uri.Parse(s)
	if err != nil {
		return s
	}
	return string(u)
}

// lines are the places in a text, counted anew from what the protocol says.
type lines struct {
	text   string
	starts []int
	ends   []int // before the end of line
	units  func(string) int
}

func newLines(t, encoding string) *lines {
	l := &lines{text: t, starts: []int{0}, units: map[string]func(string) int{
		"utf-8":  func(s string) int { return len(s) },
		"utf-32": func(s string) int { return len([]rune(s)) },
		"utf-16": func(s string) (n int) {
			for _, r := range s {
				n++
				if r > 0xffff {
					n++
				}
			}
			return n
		},
	}[encoding]}
	for i := 0; i < len(t); i++ {
		if t[i] != '\n' && t[i] != '\r' {
			continue
		}
		l.ends = append(l.ends, i)
		if t[i] == '\r' && i+1 < len(t) && t[i+1] == '\n' {
			i++
		}
		l.starts = append(l.starts, i+1)
	}
	l.ends = append(l.ends, len(t))
	return l
}

// exact gives the offset of a position that exists.
func (l *lines) exact(p any) (int, bool) {
	line, char := number(of(p, "line")), int(number(of(p, "character")))
	if line < 0 || line >= int64(len(l.starts)) {
		return 0, false
	}
	s := l.text[l.starts[line]:l.ends[line]]
	for i := range s {
		if n := l.units(s[:i]); n >= char {
			return l.starts[line] + i, n == char
		}
	}
	return l.ends[line], l.units(s) == char
}

// clamped gives the position that one of a client stands for; nil where there
// is no such line.
func (l *lines) clamped(p any) any {
	line := number(of(p, "line"))
	if line >= int64(len(l.starts)) {
		return nil
	}
	longest := l.units(l.text[l.starts[line]:l.ends[line]])
	return map[string]any{"line": of(p, "line"), "character": json.Number(fmt.Sprint(min(number(of(p, "character")), int64(longest))))}
}

// nearest gives the offset of a position of a client, which may lie outside.
func (l *lines) nearest(p any) int {
	line := number(of(p, "line"))
	if line >= int64(len(l.starts)) {
		return len(l.text)
	}
	offset, _ := l.exact(p)
	return offset
}
