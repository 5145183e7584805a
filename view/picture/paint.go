package picture

import (
	"context"
	"errors"
	"image"
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/view/scene"
)

// Painter draws worlds as they are seen from somewhere. It keeps its buffers
// from frame to frame; the zero Painter is ready. It is for one goroutine at a
// time and uses all cores itself.
type Painter struct {
	w, h int
	// the columns being drawn
	from, to int

	id    []int32   // what each pixel shows, -1: nothing
	depth []float32 // 1/mm along the view
	flats []flat
	bands [][]int32
	tone  *tone
}

// Shot says how a frame is taken.
type Shot struct {
	Camera scene.Camera
	// Shift moves the frame by parts of a pixel, for smooth edges from several.
	Shift [2]float64
	// Exposure is what the eye is used to; without a gain, what Meter says.
	Exposure Exposure
	// From and To are the columns drawn, so that two worlds can share a frame;
	// both 0: all.
	From, To int
	// Time is that of the scene: by night an eye sees less colour in the dark.
	Time scene.Time
}

// corner3 is a triangle's corners and where they lie on the grid of its chart.
type corner3 struct {
	p    [3]mgl64.Vec3
	u, v [3]float64
	n    vec
}

// flat is a triangle made ready to be drawn: what is linear over the screen,
// as a, b and c in a·x + b·y + c.
type flat struct {
	edge   [3][3]float64
	iw     [3]float64 // one over the depth
	u, v   [3]float64 // places on the chart's grid, over the depth
	chart  int32
	lamp   int32
	y0, y1 int32

	su, sv, siw [3]float32 // u, v and iw again, as the shading reads them
}

// corners makes the triangles ready for painters.
func (w *World) corners() {
	w.soup = make([]corner3, len(w.scene.Triangles))
	for i := range w.scene.Triangles {
		t := &w.scene.Triangles[i]
		c := &w.chart[w.chartOf[i]]
		k := &w.soup[i]
		k.p = t.P
		k.n = vecOf(t.P[1].Sub(t.P[0]).Cross(t.P[2].Sub(t.P[0])).Normalize())
		for j := range 3 {
			d := sub(vecOf(t.P[j]), c.origin)
			k.u[j] = float64(dot(d, c.ex) / max(c.dx, 1e-6))
			k.v[j] = float64(dot(d, c.ey) / max(c.dy, 1e-6))
		}
	}
}

// nearPlane is how far from the eye things begin to be seen, mm.
const nearPlane = 20

// errCamera is returned for an eye that looks nowhere.
var errCamera = errors.New("the eye is where it looks to, or looks along its own up; move it")

// Matrix returns what takes a place in the stair to the screen of a frame of so
// many pixels: x to the right and y down, each times the depth, which is w.
func Matrix(c scene.Camera, width, height int) (mgl64.Mat4, error) {
	d := c.At.Sub(c.Eye)
	if !(d.Len() > 1e-6) || !(d.Cross(c.Up).Len() > 1e-9) || !(c.Angle > 0 && c.Angle < math.Pi) || width < 1 || height < 1 {
		return mgl64.Mat4{}, errCamera
	}
	v := mgl64.LookAtV(c.Eye, c.At, c.Up)
	p := mgl64.Perspective(c.Angle, float64(width)/float64(height), nearPlane, 1e6)
	// From -1…1 to pixels, y down.
	half := mgl64.Mat4FromRows(
		mgl64.Vec4{float64(width) / 2, 0, 0, float64(width) / 2},
		mgl64.Vec4{0, -float64(height) / 2, 0, float64(height) / 2},
		mgl64.Vec4{0, 0, 1, 0},
		mgl64.Vec4{0, 0, 0, 1})
	return half.Mul4(p).Mul4(v), nil
}

// Paint draws a world into img, all of it.
func (p *Painter) Paint(w *World, s Shot, img *image.RGBA) error {
	width, height := img.Rect.Dx(), img.Rect.Dy()
	m, err := Matrix(s.Camera, width, height)
	if err != nil {
		return err
	}
	p.ready(width, height)
	p.from, p.to = max(0, s.From), min(width, s.To)
	if s.From == 0 && s.To == 0 {
		p.to = width
	}
	if p.from >= p.to {
		return nil
	}
	p.project(w, m, s)
	if !(s.Exposure.Gain > 0) {
		s.Exposure = w.Meter(s.Camera)
	}
	exposure := mul(s.Exposure.White, float32(s.Exposure.Gain))
	eye := vecOf(s.Camera.Eye)
	dark := map[scene.Time]float32{scene.Night: 0.8, scene.Evening: 0.25}[s.Time]
	return scene.Share(context.Background(), len(p.bands), 0, func(b int) { // it cannot end early
		p.cover(b)
		p.shade(w, b, eye, exposure, dark, img)
	})
}

// bandRows is how many rows of pixels one core draws at a time.
const bandRows = 16

func (p *Painter) ready(width, height int) {
	if p.tone == nil {
		p.tone = newTone()
	}
	if p.w != width || p.h != height {
		p.w, p.h = width, height
		p.id, p.depth = make([]int32, width*height), make([]float32, width*height)
		p.bands = make([][]int32, (height+bandRows-1)/bandRows)
	}
}

// project brings the triangles that face the eye to the screen. Sums of edges
// in homogeneous places (Olano and Greer 1997) spare cutting them at the eye.
func (p *Painter) project(w *World, m mgl64.Mat4, s Shot) {
	n := len(w.soup)
	if cap(p.flats) < n {
		p.flats = make([]flat, n)
	}
	p.flats = p.flats[:n]
	eye := s.Camera.Eye
	_ = each(context.Background(), n, func(from, to int) { // it cannot end early
		for i := from; i < to; i++ {
			p.flats[i].y1 = -1
			p.project1(w, i, &m, eye, s.Shift)
		}
	})
	for b := range p.bands {
		p.bands[b] = p.bands[b][:0]
	}
	for i := range p.flats {
		f := &p.flats[i]
		if f.y1 < f.y0 {
			continue
		}
		for b := f.y0 / bandRows; b <= f.y1/bandRows; b++ {
			p.bands[b] = append(p.bands[b], int32(i))
		}
	}
}

func (p *Painter) project1(w *World, i int, m *mgl64.Mat4, eye mgl64.Vec3, shift [2]float64) {
	k := &w.soup[i]
	d := k.p[0].Sub(eye)
	if d[0]*float64(k.n[0])+d[1]*float64(k.n[1])+d[2]*float64(k.n[2]) >= 0 {
		return // from behind
	}
	var x, y, z [3]float64 // z is the depth
	least := math.Inf(1)
	for j := range 3 {
		q := &k.p[j]
		x[j] = m[0]*q[0] + m[4]*q[1] + m[8]*q[2] + m[12]
		y[j] = m[1]*q[0] + m[5]*q[1] + m[9]*q[2] + m[13]
		z[j] = m[3]*q[0] + m[7]*q[1] + m[11]*q[2] + m[15]
		x[j] += shift[0] * z[j]
		y[j] += shift[1] * z[j]
		least = math.Min(least, z[j])
	}
	y0, y1 := 0, p.h-1
	if least > nearPlane {
		lo, hi := math.Inf(1), math.Inf(-1)
		lx, hx := math.Inf(1), math.Inf(-1)
		for j := range 3 {
			v, u := y[j]/z[j], x[j]/z[j]
			lo, hi = math.Min(lo, v), math.Max(hi, v)
			lx, hx = math.Min(lx, u), math.Max(hx, u)
		}
		if hx <= float64(p.from) || lx >= float64(p.to) || hi <= 0 || lo >= float64(p.h) {
			return
		}
		y0, y1 = max(0, int(math.Ceil(lo-0.5))), min(p.h-1, int(math.Floor(hi-0.5)))
		if y1 < y0 {
			return
		}
	} else if math.Max(z[0], math.Max(z[1], z[2])) < nearPlane {
		return
	}
	// The inverse of the corners' matrix: rows are edges.
	e := [3][3]float64{
		{y[1]*z[2] - y[2]*z[1], z[1]*x[2] - z[2]*x[1], x[1]*y[2] - x[2]*y[1]},
		{y[2]*z[0] - y[0]*z[2], z[2]*x[0] - z[0]*x[2], x[2]*y[0] - x[0]*y[2]},
		{y[0]*z[1] - y[1]*z[0], z[0]*x[1] - z[1]*x[0], x[0]*y[1] - x[1]*y[0]},
	}
	det := x[0]*e[0][0] + y[0]*e[0][1] + z[0]*e[0][2]
	if det == 0 || math.IsNaN(det) {
		return
	}
	f := &p.flats[i]
	inv := 1 / det
	for j := range 3 {
		for c := range 3 {
			f.edge[j][c] = e[j][c] * inv
		}
	}
	for c := range 3 {
		f.iw[c] = f.edge[0][c] + f.edge[1][c] + f.edge[2][c]
		f.u[c] = k.u[0]*f.edge[0][c] + k.u[1]*f.edge[1][c] + k.u[2]*f.edge[2][c]
		f.v[c] = k.v[0]*f.edge[0][c] + k.v[1]*f.edge[1][c] + k.v[2]*f.edge[2][c]
	}
	for c := range 3 {
		f.su[c], f.sv[c], f.siw[c] = float32(f.u[c]), float32(f.v[c]), float32(f.iw[c])
	}
	f.chart = w.chartOf[i]
	f.lamp = int32(w.scene.Triangles[i].Lamp)
	f.y0, f.y1 = int32(y0), int32(y1)
}

// cover finds out what each pixel of a band shows.
func (p *Painter) cover(b int) {
	r0, r1 := b*bandRows, min(p.h, (b+1)*bandRows)
	ids, depths := p.id[r0*p.w:r1*p.w], p.depth[r0*p.w:r1*p.w]
	for i := range ids {
		ids[i] = -1
		depths[i] = 0
	}
	for _, t := range p.bands[b] {
		f := &p.flats[t]
		for r := max(r0, int(f.y0)); r < min(r1, int(f.y1)+1); r++ {
			yc := float64(r) + 0.5
			// Where all three edges, and the near plane, leave the row.
			lo, hi := float64(p.from)+0.5, float64(p.to)-0.5
			for j := range 4 {
				var a, c float64
				if j < 3 {
					a, c = f.edge[j][0], f.edge[j][1]*yc+f.edge[j][2]
				} else {
					a, c = -f.iw[0], 1.0/nearPlane-f.iw[1]*yc-f.iw[2]
				}
				switch {
				case a > 0:
					lo = math.Max(lo, -c/a)
				case a < 0:
					hi = math.Min(hi, -c/a)
				case c < 0:
					lo, hi = 1, 0
				}
			}
			if !(lo <= hi) {
				continue
			}
			x0, x1 := int(math.Ceil(lo-0.5)), int(math.Floor(hi-0.5))
			x0, x1 = max(p.from, x0), min(p.to-1, x1)
			if x0 > x1 {
				continue
			}
			iw := float32(f.iw[0]*(float64(x0)+0.5) + f.iw[1]*yc + f.iw[2])
			step := float32(f.iw[0])
			row := (r - r0) * p.w
			ds, is := depths[row+x0:row+x1+1], ids[row+x0:row+x1+1]
			for x := range ds {
				if iw > ds[x] {
					ds[x] = iw
					is[x] = t
				}
				iw += step
			}
		}
	}
}
