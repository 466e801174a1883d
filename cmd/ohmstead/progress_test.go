package main

import (
	"bytes"
	"testing"
	"time"
)

func TestProgress(t *testing.T) {
	var b bytes.Buffer
	if p := newProgress(&b, 300, "plans"); p.w != nil {
		t.Error("it speaks to what is no terminal")
	}
	p := &progress{w: &b, what: "plans", total: 300, started: time.Now()}
	p.step()
	if p.end(); b.Len() > 0 {
		t.Errorf("a run that has only begun says %q", b.String())
	}
	p.started = p.started.Add(-patience)
	p.step()
	p.step()
	p.end()
	if got, want := b.String(), "\r2 of 300 plans\r\x1b[K"; got != want {
		t.Errorf("a long run says %q, want %q: once an interval, and wiped at the end", got, want)
	}
}
