package saw

import "github.com/go-gl/mathgl/mgl64"

// EndNormal returns the outward normal of an end as the board lies now.
func (w *Wood) EndNormal(h Hand) mgl64.Vec3 {
	t, _ := endTag(h)
	return w.b.face(t).normal
}

// EndOffset returns how far along its normal the end's plane lies.
func (w *Wood) EndOffset(h Hand) float64 {
	t, _ := endTag(h)
	return w.b.face(t).offset
}
