package panel

import "risewright/view/drawing"

// fitOnce keeps how a drawing was fitted last, and all that it hangs on: a drawing
// is fitted by drawing it several times.
type fitOnce[K comparable] struct {
	known bool
	of    K
	view  drawing.Viewport
}

// get returns the fit for what it hangs on; fit is asked only where that is new.
func (f *fitOnce[K]) get(of K, fit func() drawing.Viewport) drawing.Viewport {
	if !f.known || f.of != of {
		*f = fitOnce[K]{true, of, fit()}
	}
	return f.view
}
