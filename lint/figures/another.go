package figures

import (
	"fmt"
	"strings"
)

// Another is how one more lead is written that is like one which feeds a run already: where
// both are copies of one number, for all copies, and where both are members of an
// assembly, in that, in plain names.
type Another struct {
	Like  string // as the new lead names the old one
	Run   string // and the run
	Name  string // to begin its name with
	Times int    // copies; 0 for none
	In    string // what its name begins with outside of the assembly that it is to stand in; "" for none
	Alike bool   // all copies of the run are fed so
}

// Another says how one more lead like this one is written.
func (l *Lead) Another(r *Run) Another {
	switch {
	case l.Assembly() != "" && l.Assembly() == r.Assembly() && l.Numbers() == r.Numbers() && !l.Lead.Times.Set && !r.Run.Times.Set:
		return Another{Like: "lead." + l.Node.Label(), Run: "run." + r.Node.Label(), Name: l.Node.Label(),
			In: strings.TrimPrefix(l.Assembly(), "assembly.") + "-", Alike: true}
	case l.Copy > 0 && l.Copy == r.Copy && l.Assembly()+r.Assembly() == "":
		number := fmt.Sprintf("-%d", l.Copy)
		return Another{Like: strings.TrimSuffix(l.ID(), number) + "-each", Run: strings.TrimSuffix(r.ID(), number) + "-each", Name: strings.TrimSuffix(l.Name, number),
			Times: l.Lead.Times.V, Alike: true}
	}
	return Another{Like: l.ID(), Run: r.ID(), Name: l.Name}
}
