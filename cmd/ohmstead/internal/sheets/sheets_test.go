package sheets

import (
	"os"
	"testing"

	"ohmstead/lint"
	"ohmstead/lint/figures"
	"ohmstead/lint/rules"
	"ohmstead/schema"
	"ohmstead/schema/source"
)

// made makes the sheets of a plan's text.
func made(t testing.TB, text string, change func(*Job)) *Document {
	t.Helper()
	plan := schema.Decode("plan", []*source.File{source.Parse(source.NewText("plan/plan.ohm.hcl", []byte(text)))}, nil)
	fig, err := figures.Work(t.Context(), plan, nil)
	if err != nil {
		t.Fatal(err)
	}
	v, err := lint.Run(t.Context(), plan, fig, rules.All)
	if err != nil {
		t.Fatal(err)
	}
	job := Job{Figures: fig, Verdict: v, Rules: len(rules.All), Paper: papers[0], Margin: 10}
	if change != nil {
		change(&job)
	}
	return Of(job, func() {})
}

func demo(t testing.TB, name string) string {
	t.Helper()
	text, err := os.ReadFile("../../../../testdata/plans/" + name + "/plan.ohm.hcl")
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// The test page's bars are 100 mm long, and pages are as large as the paper, on every paper.
func TestBarsAreAsLongAsTheySay(t *testing.T) {
	for _, p := range papers {
		d := made(t, demo(t, "porch-arch"), func(j *Job) { j.Paper, j.Only = p, []string{"template"} })
		file, err := d.PDF(t.Context(), p, 10)
		if err != nil {
			t.Fatal(err)
		}
		for i, page := range readPDF(t, file) {
			if across, upright := page.bars(); across == 0 || upright == 0 {
				t.Errorf("%s, page %d: %d bars across, %d upright", p.Name, i+1, across, upright)
			}
			if d := page.width - p.Width; d < -0.01 || d > 0.01 {
				t.Errorf("%s, page %d is %g mm wide", p.Name, i+1, page.width)
			}
			if d := page.height - p.Height; d < -0.01 || d > 0.01 {
				t.Errorf("%s, page %d is %g mm high", p.Name, i+1, page.height)
			}
		}
	}
}
