package page

import (
	"crypto/subtle"
	"embed"
	"encoding/json"
	"fmt"
	"io"
	"net/http"
	"path"
	"strconv"
	"strings"
	"time"
)

//go:embed static
var static embed.FS

// kinds are the media types of the files.
var kinds = map[string]string{
	".html": "text/html; charset=utf-8",
	".css":  "text/css; charset=utf-8",
	".js":   "text/javascript; charset=utf-8",
	".svg":  "image/svg+xml",
}

// policy lets the page load its own files, and nothing else; it runs no text as
// a program and stands in no other page.
const policy = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; connect-src 'self'; " +
	"base-uri 'none'; form-action 'none'; frame-ancestors 'none'"

// most is how many bytes a request may bring.
const most = 4 << 10

// ServeHTTP answers the browser.
func (p *Page) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	if !p.begin() {
		return
	}
	defer p.running.Done()
	h := w.Header()
	for k, v := range map[string]string{
		"Content-Security-Policy":      policy,
		"Cross-Origin-Opener-Policy":   "same-origin",
		"Cross-Origin-Resource-Policy": "same-origin",
		"Referrer-Policy":              "no-referrer", // the address holds the secret
		"X-Content-Type-Options":       "nosniff",
		"Cache-Control":                "no-store",
	} {
		h.Set(k, v)
	}
	name, ok := p.admitted(r)
	if !ok {
		http.Error(w, "This page is shown to the browser that was given its whole address.", http.StatusForbidden)
		return
	}
	switch method := r.Method; {
	case name == "jump" && method == http.MethodPost:
		p.jump(w, r)
	case method != http.MethodGet:
		http.Error(w, "The page is only read.", http.StatusMethodNotAllowed)
	case name == "events":
		p.events(w, r)
	case name == "pattern":
		p.pattern(w, r)
	default:
		p.file(w, name)
	}
}

// admitted says whether a request comes from the page itself or from someone
// who was given its address, and what it asks for. The name of the host is
// looked at since another site may have its own name lead to this machine, the
// origin since any site can have the browser ask.
func (p *Page) admitted(r *http.Request) (name string, ok bool) {
	origins := r.Header.Values("Origin")
	if r.Host != p.addr || len(origins) > 1 || len(origins) == 1 && origins[0] != "http://"+p.addr {
		return "", false
	}
	secret, name, ok := strings.Cut(strings.TrimPrefix(r.URL.Path, "/"), "/")
	if site := r.Header.Get("Sec-Fetch-Site"); name != "" && site != "" && site != "same-origin" {
		return "", false
	}
	return name, ok && subtle.ConstantTimeCompare([]byte(secret), []byte(p.secret)) == 1
}

// file gives one of the files that the page is made of.
func (p *Page) file(w http.ResponseWriter, name string) {
	if name == "" {
		name = "index.html"
	}
	data, err := static.ReadFile("static/" + name)
	if err != nil {
		http.Error(w, "There is no such file.", http.StatusNotFound)
		return
	}
	w.Header().Set("Content-Type", kinds[path.Ext(name)])
	_, _ = w.Write(data) // a browser that went away misses nothing
}

// events tells the browser what changes, as server-sent events (HTML Living
// Standard, 9.2), for as long as it listens.
func (p *Page) events(w http.ResponseWriter, r *http.Request) {
	out := http.NewResponseController(w)
	_ = out.SetReadDeadline(time.Time{}) // of a connection that is only written to
	w.Header().Set("Content-Type", "text/event-stream")
	seen, _ := strconv.Atoi(r.Header.Get("Last-Event-ID")) // 0 for a new page
	for {
		news, changed := p.board.since(seen)
		if news.Number != seen {
			text, err := json.Marshal(news)
			if err != nil {
				panic(err) // raw messages, made by put
			}
			_ = out.SetWriteDeadline(time.Now().Add(time.Minute)) // a browser that sleeps is not waited for
			if _, err := fmt.Fprintf(w, "id: %d\ndata: %s\n\n", news.Number, text); err != nil {
				return
			}
			seen = news.Number
		}
		if out.Flush() != nil {
			return
		}
		select {
		case <-changed:
		case <-r.Context().Done():
			return
		}
	}
}

// jump shows a place in the editor.
func (p *Page) jump(w http.ResponseWriter, r *http.Request) {
	var to Place
	if err := json.NewDecoder(io.LimitReader(r.Body, most)).Decode(&to); err != nil {
		http.Error(w, "The place cannot be read: "+err.Error(), http.StatusBadRequest)
		return
	}
	if p.opts.Jump == nil {
		http.Error(w, "No editor shows this page.", http.StatusNotFound)
		return
	}
	if err := p.opts.Jump(r.Context(), to); err != nil {
		http.Error(w, err.Error(), http.StatusBadGateway)
		return
	}
	w.WriteHeader(http.StatusNoContent)
}

// pattern gives the worst pattern of a lead or of a run's worst pixel.
func (p *Page) pattern(w http.ResponseWriter, r *http.Request) {
	out := map[string]lit{}
	if f := p.figures.Load(); f != nil {
		out = patternOf(f, r.URL.Query().Get("of"))
	}
	text, err := json.Marshal(out)
	if err != nil {
		panic(err) // plain data of ours
	}
	w.Header().Set("Content-Type", "application/json")
	_, _ = w.Write(text) // as in file
}
