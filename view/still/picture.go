package still

import "image"

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
	glow(light, f.W, f.H, r.opt.Workers)
	return develop(light, f.W, f.H, tone, r.opt.Workers)
}
