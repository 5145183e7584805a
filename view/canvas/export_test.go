package canvas

// Frame draws a frame of the size of the last one, as the window system asks.
func (c *Canvas) Frame() { c.frame(c.width, c.height) }
