package still

import (
	"errors"
	"math"

	"risewright/view/scene"
)

// camera sends rays through the places of a picture.
type camera struct {
	eye                vec
	right, up, forward vec     // right and up as long as one pixel at a distance of 1
	w, h               float64 // pixels
	step               float64 // the angle of one pixel in the middle, rad
}

func newCamera(c scene.Camera, w, h int) (camera, error) {
	forward := vecOf(c.At).sub(vecOf(c.Eye))
	up := vecOf(c.Up)
	if !(up.len2() > 0) {
		up = vec{0, 0, 1}
	}
	right := forward.cross(up)
	switch {
	case math.IsNaN(forward.len2() + up.len2()), math.IsInf(forward.len2(), 1):
		return camera{}, errors.New("the eye of the picture is at no place that is a number")
	case !(forward.len2() > 0):
		return camera{}, errors.New("the eye of the picture looks at itself: move it away from what it looks at")
	case !(right.len() > 1e-9*forward.len()*up.len()):
		return camera{}, errors.New("the eye of the picture looks along its own upright: turn one of the two")
	case !(c.Angle > 0 && c.Angle < math.Pi):
		return camera{}, errors.New("the angle of view lies outside 0 to 180 degrees")
	}
	out := camera{eye: vecOf(c.Eye), forward: forward.unit(), w: float64(w), h: float64(h)}
	out.step = 2 * math.Tan(c.Angle/2) / out.h
	out.right = right.unit().mul(out.step)
	out.up = out.right.cross(out.forward).unit().mul(out.step)
	return out, nil
}

// ray returns the line of sight through a place, in pixels from the top left.
func (c *camera) ray(x, y float64) ray {
	d := c.forward.along(c.right, x-c.w/2).along(c.up, c.h/2-y)
	return ray{c.eye, d.unit()}
}

// sized returns the camera for a picture of another size; when its shape is
// another, more or less is seen at the sides.
func (c camera) sized(w, h int) camera {
	k := c.h / float64(h)
	c.right, c.up = c.right.mul(k), c.up.mul(k)
	c.w, c.h, c.step = float64(w), float64(h), c.step*k
	return c
}
