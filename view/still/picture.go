package still

import (
	"context"
	"image"
)

// Look says how a picture is made of a film. The zero value smooths and exposes
// by itself, at full size.
type Look struct {
	Most  int   // about how many pixels wide; 0 means as it is
	Rough bool  // leaves the noise in
	Tone  *Tone // nil: that of the film
}

// Picture returns the picture as it is now, fit for a screen.
func (r *Refiner) Picture(l Look) *image.NRGBA {
	f := r.Film(l.Most)
	var light [][3]float32
	if l.Rough {
		light = make([][3]float32, len(f.pixels))
		for i := range f.pixels {
			c := f.pixels[i].light()
			light[i] = [3]float32{float32(c.r), float32(c.g), float32(c.b)}
		}
	} else {
		light = f.smooth(&r.camera, r.opt.Workers)
	}
	tone := f.Tone()
	if l.Tone != nil {
		tone = *l.Tone
	}
	f.glow(light, r.opt.Workers)
	return develop(light, f.W, f.H, tone, r.opt.Workers)
}

// Glance returns a small, hasty picture, about most pixels wide, to look at until
// the first sixteenth is there: a few whole paths a pixel, without the map. It
// changes nothing, and may be asked for before Run, but not by two goroutines at
// once. When ctx ends first it returns its error.
func (r *Refiner) Glance(ctx context.Context, most int) (*image.NRGBA, error) {
	const samples = 4
	w := *r.world
	w.lights = nil
	left := r.left
	if left != nil {
		l := *left
		l.lights, left = nil, &l
	}
	o := r.opt
	o.W = max(1, min(most, r.opt.W))
	o.H = max(1, o.W*r.opt.H/r.opt.W)
	o.Samples, o.Grain, o.Time, o.Clock = samples, 0, 0, nil
	cam := r.camera.sized(o.W, o.H)
	small := &Refiner{world: &w, left: left, camera: cam, opt: o, film: Film{W: o.W, H: o.H, pixels: make([]pixel, o.W*o.H), angle: cam.step, split: r.film.split * o.W / r.opt.W}}
	if err := small.Run(ctx, nil); err != nil {
		return nil, err
	}
	return small.Picture(Look{}), nil
}
