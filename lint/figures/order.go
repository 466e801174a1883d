package figures

import "ohmstead/calc/address"

// orders lays the runs into orders, and the orders into universes.
func (f *Figures) orders() {
	for _, o := range f.Plan.Orders {
		out := &Order{Order: o, OK: o.Runs.Known()}
		for _, ref := range o.Runs.V {
			run := f.runs[ref.Run]
			if run == nil || !run.OK {
				out.OK = false
				continue
			}
			out.Spans = append(out.Spans, OrderSpan{Run: run, First: out.Pixels, Count: run.Pixels, FromEnd: ref.FromEnd})
			out.Pixels += run.Pixels
		}
		f.Orders = append(f.Orders, out)
	}
	for _, u := range f.Plan.Universes {
		out := &Universes{Universes: u}
		f.Universes = append(f.Universes, out)
		if u.Broken || u.Order.V == nil {
			continue
		}
		for _, o := range f.Orders {
			if o.Order != u.Order.V || !o.OK || len(o.Spans) == 0 {
				continue
			}
			out.Layout = address.Layout{
				Universe: u.First.V, Slot: u.Slot.V, Pixels: o.Pixels,
				Channels: len(o.Spans[0].Run.Strip.V.Channels.V), WholePixels: u.WholePixels.V,
			}
			out.Spans, out.Err = out.Layout.Spans()
			out.OK = out.Err == nil
		}
	}
}

// Against reports whether an order takes a run's pixels against the way of
// their data.
func (s *OrderSpan) Against() bool { return s.FromEnd != (s.Run.DataEnters.V == "end") }
