package main

import "testing"

func TestRelease(t *testing.T) {
	for version, want := range map[string]string{
		"v0.1.0": "0.1.0", "v1.4.2": "1.4.2", "v9.0.0-rc.1": "9.0.0-rc.1", "v10.0.1": "10.0.1",
		"devel": "", "devel 0123456789ab+changes": "", "unknown": "", "": "", "v": "",
		"/1.0": "", ":1.0": "", // the neighbours of the digits
	} {
		if got := release(version); got != want {
			t.Errorf("release of %q is %q, want %q", version, got, want)
		}
	}
}
