package lux

// Patches of a surface that reflects: small beside its distance to what it
// lights in turn, except right at an inner corner. Halving them changes the
// means of a usual stair by under 1 % (a test measures it).
const (
	patchesAcross = 12
	patchesDeep   = 4
)

// patches returns the surfaces as sources of the light that they reflect once.
func (s *solver) patches(lamps []source, groups ...[]Surface) []source {
	var out []source
	var keep workspace // never reset: the patches' corners stay in it
	for _, surfaces := range groups {
		for i := range surfaces {
			r := &surfaces[i]
			if r.Reflectance <= 0 {
				continue
			}
			normal := s.aimAt(r.Outline, lamps)
			if len(s.whole.pairs) == 0 {
				continue
			}
			var g Grid
			g.frame(r.Outline, normal, patchesAcross, patchesDeep)
			for j := range g.Deep {
				for k := range g.Across {
					cell := g.cell(&keep, r.Outline, k, j)
					if at, area := centroid(cell, normal); area > sliver*g.U.Cross(g.V).Len() {
						if e := s.at(&s.whole, at, normal); e > 0 {
							out = append(out, readySource(cell, r.Reflectance*e))
						}
					}
				}
			}
		}
	}
	return out
}
