package schema

// Picture is a small drawing in text of what an attribute of the block type
// says, where its words are easily taken for one another's; empty for others.
func (b *BlockType) Picture(a *Attr) string { return pictures[b.Name+"."+a.Name] }

// pictures by block type and attribute. No line is longer than 76 letters.
var pictures = map[string]string{
	"strip.group": `
group = 1   (o) (o) (o) (o) (o) (o)   6 pixels: each LED has its address
group = 3   (o   o   o) (o   o   o)   2 pixels: 3 LEDs always light alike`,
	"strip.cut": `
cut = 1   | o | o | o | o | o | o |   pads after each LED
cut = 3   | o   o   o | o   o   o |   pads after 3 LEDs: cut only at |`,
	"strip.series": `
series = 1   plus --o-- driver -- minus
series = 3   plus --o--o--o-- driver -- minus
             one current through all 3, 3 times the forward voltage`,
	"strip.stack": `
parallel   plus --R-- driver -- minus     series   plus --R--G--B-- minus
           plus --G-- driver -- minus              one current for all:
           plus --B-- driver -- minus              each driver bridges
           their currents add up                   its LED to darken it`,
	"case.held": `
held = true    color x level, then dimmed until the ceilings are kept
held = false   color x level, as if the firmware had no ceiling`,
	"path.start": `
start = ["20 cm", "10 cm"]   up |
                                |     * the run's start
                          10 cm |     :
                                +-----:----- right
                                    20 cm`,
	"run.data_enters": `
data_enters = "start"   run.a.start  > > > > > >  run.a.end
data_enters = "end"     run.a.start  < < < < < <  run.a.end
                        start and end are those of its drawing;
                        the arrows are printed on the strip`,
	"run.insert": `
push   strip --> (==========)            pushed in from one end
cord   strip --> (==========) --> cord   a cord pulls it through
slit        strip
           v v v v v
          (==     ==)                    laid in along a slit in the back,
                                         or under the cover of a channel`,
}
