package main

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// manyPlans makes a repository with n plans, two stock directories, and on top
// of it a commit that changes two plans and, through stock, a third.
func manyPlans(t testing.TB, n int) repository {
	t.Helper()
	r := newRepository(t, "")
	text, err := os.ReadFile(filepath.Join(comparisons, "base", porch))
	if err != nil {
		t.Fatal(err)
	}
	shop, err := os.ReadFile(filepath.Join(comparisons, "base", parts))
	if err != nil {
		t.Fatal(err)
	}
	write := func(name, text string) {
		name = filepath.Join(r.dir, name)
		if err := os.MkdirAll(filepath.Dir(name), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(name, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	write(parts, string(shop))
	write("attic/parts.ohm.hcl", string(shop))
	for i := range n {
		p := strings.Replace(string(text), `plan "porch"`, fmt.Sprintf("plan \"porch-%d\"", i), 1)
		if i == n/2 {
			p = strings.Replace(p, `stock = ["../../workshop"]`, "stock = [\n    # kept apart\n    \"../../attic\",\n  ]", 1)
		}
		write(fmt.Sprintf("plans/p%04d/plan.ohm.hcl", i), p)
	}
	r.commit("Base")
	r.edit(
		edit{file: "plans/p0001/plan.ohm.hcl", old: `"80 cm"`, new: `"3 m"`},
		edit{file: fmt.Sprintf("plans/p%04d/plan.ohm.hcl", n-1), old: `"8 A"`, new: `"5 A"`},
		edit{file: "attic/parts.ohm.hcl", old: `"16 AWG"`, new: `"20 AWG"`},
	)
	write("plans/p0002/README.md", "Not a plan file.\n")
	r.commit("Change")
	return r
}

// Of a thousand plans only those are worked out of which a file or a file of
// their stock changed; nothing in the working tree is read or touched.
func TestCompareSolvesOnlyWhatChanged(t *testing.T) {
	const n = 1000
	r := manyPlans(t, n)
	before := r.git("rev-parse", "HEAD")
	for _, d := range []string{"plans", "workshop", "attic"} { // the working tree is not what is read
		if err := os.RemoveAll(filepath.Join(r.dir, d)); err != nil {
			t.Fatal(err)
		}
	}
	t.Chdir(r.dir)
	out, errs, code := ohmstead("compare", "--rev", "HEAD~1..HEAD", "--format", "json", "--fail-on", "never")
	if code != 0 {
		t.Fatalf("exit code %d: %s", code, errs)
	}
	var got struct {
		Total, Solved int
		Plans         []struct{ Dir string }
	}
	if err := json.Unmarshal([]byte(out), &got); err != nil {
		t.Fatal(err)
	}
	want := []struct{ Dir string }{{"plans/p0001"}, {fmt.Sprintf("plans/p%04d", n/2)}, {fmt.Sprintf("plans/p%04d", n-1)}}
	if fmt.Sprint(got.Plans) != fmt.Sprint(want) {
		t.Errorf("changed: %v, want %v", got.Plans, want)
	}
	if got.Solved != 6 || got.Total != n { // three plans, before and after
		t.Errorf("%d worked out of %d plans, want 6 of %d", got.Solved, got.Total, n)
	}
	if status := r.git("status", "--porcelain", "--untracked-files=all"); strings.Count(status, "\n D ")+1 < n {
		t.Errorf("the working tree was touched:\n%s", status[:min(400, len(status))])
	}
	if after := r.git("rev-parse", "HEAD"); after != before {
		t.Error("HEAD moved")
	}
}

func BenchmarkCompareThousandPlans(b *testing.B) {
	r := manyPlans(b, 1000)
	b.Chdir(r.dir)
	for b.Loop() {
		if out, errs, code := ohmstead("compare", "--rev", "HEAD~1..HEAD", "--format", "json", "--fail-on", "never"); code != 0 || !strings.Contains(out, `"solved": 6`) {
			b.Fatalf("exit code %d: %s", code, errs)
		}
	}
}
