package figures

// WithoutOne is what a side of a lead of several conductors may carry when one
// of them is loose, A.
func WithoutOne(l *Lead) float64 {
	n := float64(l.Parallel.V)
	return l.Ampacity * (n - 1) / n
}
