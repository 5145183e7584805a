package panel_test

import (
	"image"
	"math"
	"testing"

	"fyne.io/fyne/v2"
	fcanvas "fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"

	"risewright/model"
	"risewright/view/panel"
)

const pictureTab = 8

// lookedAt is the widget of the picture, as a hand finds it.
type lookedAt interface {
	fyne.Focusable
	fyne.Draggable
	fyne.Scrollable
	desktop.Mouseable
	fyne.Widget
}

// look brings the picture to the front and draws it until it rests.
func (r *rig) look() (lookedAt, func() image.Image) {
	r.t.Helper()
	r.b.ShowTab(pictureTab)
	v, ok := r.w.Canvas().Focused().(lookedAt)
	if !ok {
		r.t.Fatalf("the picture has not the keyboard: %T", r.w.Canvas().Focused())
	}
	var raster *fcanvas.Raster
	for _, o := range test.WidgetRenderer(v).Objects() {
		if x, ok := o.(*fcanvas.Raster); ok {
			raster = x
		}
	}
	if raster == nil {
		r.t.Fatal("the picture has no raster")
	}
	return v, func() image.Image { // small, so that the test is quick
		raster.Generator(96, 64)
		for n := 0; len(r.later) > 0; n++ {
			r.run()
			if n > 400 {
				r.t.Fatal("the picture never rests")
			}
		}
		img := raster.Generator(96, 64).(*image.RGBA)
		out := image.NewRGBA(img.Rect)
		copy(out.Pix, img.Pix)
		return out
	}
}

// unlike is the mean difference of two pictures, in counts of 255.
func unlike(a, b image.Image) float64 {
	p, q := a.(*image.RGBA), b.(*image.RGBA)
	sum := 0
	for i := range p.Pix {
		d := int(p.Pix[i]) - int(q.Pix[i])
		sum += max(d, -d)
	}
	return float64(sum) / float64(len(p.Pix))
}

// TestPicture: the picture follows the keys, the hand and the swatches, and what
// is chosen can be undone.
func TestPicture(t *testing.T) {
	r := newRig(t, smallJob(t, 4))
	r.d.RoughPicture()
	v, frame := r.look()
	first := frame()
	if again := frame(); unlike(first, again) != 0 {
		t.Error("a picture that rests changes")
	}
	changed := func(what string, do func()) image.Image {
		t.Helper()
		before := frame()
		do()
		after := frame()
		if unlike(before, after) < 0.5 {
			t.Errorf("%s changes nothing", what)
		}
		return after
	}
	changed("a drag", func() { v.Dragged(&fyne.DragEvent{Dragged: fyne.NewDelta(60, -20)}); v.DragEnd() })
	changed("the wheel", func() { v.Scrolled(&fyne.ScrollEvent{Scrolled: fyne.NewDelta(0, 25)}) })
	v.TypedKey(&fyne.KeyEvent{Name: fyne.KeyHome})
	if home := frame(); unlike(first, home) > 0.01 {
		t.Errorf("Home does not bring the view back: %g", unlike(first, home))
	}
	changed("the day", func() { v.TypedRune('d') })
	changed("the stair before", func() { v.TypedRune('b') })
	// Both: before at the left of the divider, after at its right.
	changed("both", func() { v.TypedRune('b') })
	changed("the divider", func() {
		for range 6 {
			v.TypedRune(']')
		}
	})
	// By hand, from where it is: only a press on it takes hold of it.
	changed("a drag of the divider", func() {
		at := fyne.NewPos(v.Size().Width*float32(r.d.PictureDivider()), v.Size().Height*0.7)
		v.MouseDown(&desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: at}})
		v.Dragged(&fyne.DragEvent{PointEvent: fyne.PointEvent{Position: fyne.NewPos(v.Size().Width*0.25, at.Y)}})
		v.DragEnd()
	})
	if got := r.d.PictureDivider(); math.Abs(got-0.25) > 1e-6 {
		t.Errorf("the divider is at %g, not where it was let go", got)
	}
	v.MouseDown(&desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: fyne.NewPos(v.Size().Width*0.6, 20)}})
	v.Dragged(&fyne.DragEvent{PointEvent: fyne.PointEvent{Position: fyne.NewPos(v.Size().Width*0.7, 20)}, Dragged: fyne.NewDelta(3, 0)})
	v.DragEnd()
	if got := r.d.PictureDivider(); math.Abs(got-0.25) > 1e-6 {
		t.Errorf("a drag elsewhere moves the divider to %g", got)
	}
	v.TypedKey(&fyne.KeyEvent{Name: fyne.KeyHome})
	// A still of both has both, and the divider.
	var wanted panel.StillWanted
	r.d.MakeStill = func(s panel.StillWanted) { wanted = s }
	v.TypedRune('s')
	if wanted.Left == nil || wanted.Left == wanted.Scene || wanted.Before || math.Abs(wanted.Divider-0.25) > 1e-6 {
		t.Errorf("the still of both has before %v, at %g", wanted.Left != nil, wanted.Divider)
	}
	v.TypedRune('b')
	plain := frame()
	v.TypedRune('s')
	if wanted.Left != nil || wanted.Scene == nil {
		t.Error("the still of one stair has two")
	}
	look := model.SetLook{Look: model.Look{Riser: "ink"}}
	if err := r.d.Do(look); err != nil {
		t.Fatal(err)
	}
	if dark := frame(); unlike(plain, dark) < 0.5 {
		t.Error("dark risers look like white ones")
	}
	if len(r.errs) > 0 {
		t.Errorf("complaints: %v", r.errs)
	}
	// Away from the picture nothing is drawn any more.
	r.b.ShowTab(0)
	r.settled()
}
