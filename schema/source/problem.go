package source

// Problem is a syntax error or a refusal. Offsets are relative to the piece that reports it, or to the text when it
// comes from [File.Refused]; the range lies within one line.
type Problem struct {
	Start, End int
	Summary    string // what is wrong, without a full stop
	Detail     string // one or two sentences: numbers, limits, what to do
}
