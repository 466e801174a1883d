package sheets

import (
	"runtime"
	"testing"

	"ohmstead/schema/bigplan"
)

// BenchmarkWall makes all sheets of a plan of 10,010 pixels, in all forms.
// "heap-MB" is what the program has from the system when it is done.
func BenchmarkWall(b *testing.B) {
	text := bigplan.Wall(1)
	for b.Loop() {
		files, err := made(b, text, nil).Files(b.Context(), papers[0], 10, func() {})
		if err != nil {
			b.Fatal(err)
		}
		sum := 0
		for _, f := range files {
			sum += len(f.Data)
		}
		b.ReportMetric(float64(sum)/1e6, "MB-written")
	}
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	b.ReportMetric(float64(m.HeapSys)/1e6, "heap-MB")
}
